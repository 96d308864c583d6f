(function () {
  "use strict";
  var root = document.documentElement;
  var light = { "#1b1b1b": "#1b1b1b" };
  var dark = { "#1b1b1b": "#ececec", "#dcdcdc": "#3a4048", "#555555": "#b4b8be", "#fffffe": "#15171a" };

  function isDark() {
    var chosen = root.getAttribute("data-theme");
    return chosen ? chosen === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
  }

  // Swaps the four neutral colours of a chart for those of the theme; the hues stay.
  function themed(value, map) {
    if (typeof value === "string") { return Object.prototype.hasOwnProperty.call(map, value) ? map[value] : value; }
    if (Array.isArray(value)) { return value.length > 40 ? value : value.map(function (v) { return themed(v, map); }); }
    if (value && typeof value === "object") {
      var copy = {};
      Object.keys(value).forEach(function (key) { copy[key] = themed(value[key], map); });
      return copy;
    }
    return value;
  }

  function figureOf(plot) {
    if (!plot.ppFigure) { plot.ppFigure = JSON.parse(plot.parentNode.querySelector("script.figure").textContent); }
    return plot.ppFigure;
  }

  function drawOne(plot) {
    var map = printing ? light : isDark() ? dark : light;
    var chart = figureOf(plot);
    var layout = themed(chart.layout, map);
    layout.autosize = true;
    layout.height = plot.clientHeight || undefined;
    layout.font.size = root.classList.contains("large") ? 19 : plot.clientWidth < 520 ? 12 : 14;
    if (plot.clientWidth < 520) { layout.margin = { l: 40, r: 8, t: 84, b: 52 }; }
    return window.Plotly.react(plot, themed(chart.data, map), layout, { responsive: true, displaylogo: false, displayModeBar: false }).then(function () {
      plot.setAttribute("data-drawn", "1");
    });
  }

  var printing = false;
  function drawAll(within) {
    var all = Array.prototype.slice.call((within || document).querySelectorAll(".pp-plot"));
    return Promise.all(all.filter(function (p) { return p.offsetParent !== null; }).map(drawOne));
  }

  function tell(button, text) {
    var told = button.parentNode.querySelector(".told");
    if (told) { told.textContent = text; setTimeout(function () { told.textContent = ""; }, 4000); }
  }

  function csvOf(button) { return JSON.parse(button.closest(".table").querySelector("script.csv").textContent); }

  function copyTable(button) {
    var table = button.closest(".table").querySelector("table");
    var text = Array.prototype.map.call(table.rows, function (row) {
      return Array.prototype.map.call(row.cells, function (cell) {
        var t = cell.textContent;
        return /^[=+\-@]/.test(t) && !/^-?[\d.,\s]+$/.test(t) ? "'" + t : t;
      }).join("\t");
    }).join("\n");
    function fallback() {
      var area = document.createElement("textarea");
      area.value = text; document.body.appendChild(area); area.select();
      var ok = document.execCommand("copy"); area.remove();
      tell(button, ok ? "Copied." : "Copying is not allowed here.");
    }
    if (navigator.clipboard && navigator.clipboard.writeText) {
      navigator.clipboard.writeText(text).then(function () { tell(button, "Copied."); }, fallback);
    } else { fallback(); }
  }

  function saveCsv(button) {
    var link = document.createElement("a");
    var url = URL.createObjectURL(new Blob(["\ufeff" + csvOf(button)], { type: "text/csv;charset=utf-8" }));
    link.href = url; link.download = button.getAttribute("data-name");
    document.body.appendChild(link); link.click(); link.remove();
    setTimeout(function () { URL.revokeObjectURL(url); }, 10000);
    tell(button, "Saved as " + button.getAttribute("data-name") + ".");
  }

  function pressed(button, on) { button.setAttribute("aria-pressed", on ? "true" : "false"); }

  document.addEventListener("click", function (event) {
    var button = event.target.closest ? event.target.closest("button[data-do]") : null;
    if (!button) { return; }
    switch (button.getAttribute("data-do")) {
      case "copy": copyTable(button); break;
      case "csv": saveCsv(button); break;
      case "large": pressed(button, root.classList.toggle("large")); drawAll(); break;
      case "theme": root.setAttribute("data-theme", isDark() ? "light" : "dark"); drawAll(); break;
      case "code":
        var show = button.getAttribute("aria-pressed") !== "true";
        pressed(button, show);
        Array.prototype.forEach.call(document.querySelectorAll("details.code"), function (d) { d.open = show; });
        break;
    }
  });
  document.addEventListener("toggle", function (event) {
    if (event.target.tagName === "DETAILS" && event.target.open) { drawAll(event.target); }
  }, true);
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", function () { drawAll(); });
  window.addEventListener("beforeprint", function () { printing = true; drawAll(); });
  window.addEventListener("afterprint", function () { printing = false; drawAll(); });

  window.postpipelinePage = { draw: drawAll, figureOf: figureOf };
  if (window.matchMedia("(max-width: 1099px)").matches) {
    var contents = document.querySelector(".contents details");
    if (contents) { contents.open = false; }
  }
  drawAll().then(function () { root.setAttribute("data-ready", "1"); });
})();
