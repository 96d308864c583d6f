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

  // Units: what is written in decimal bytes can be shown in binary units, in bits, or both. Charts and tables are
  // converted from their exact numbers, running text from what it prints.
  var units = { binary: false, bits: false };
  var inText = /(\d[\d,]*(?:\.\d+)?)([ \u00a0])([kMGTP]?B|[kMGTP]b)((?:\/s)?)(?![A-Za-z\/])/g;
  var inBrackets = /([(\s])([kMGTP]?B|[kMGTP]b)((?:\/s)?)(?=[,)])/;

  function shownAs(unit) {
    var prefix = unit.length > 1 ? unit[0] : "", kind = unit[unit.length - 1], factor = 1;
    if (units.bits && kind === "B") { factor *= 8; kind = "b"; }
    if (units.binary && prefix) { factor *= Math.pow(1000 / 1024, "kMGTP".indexOf(prefix) + 1); prefix = (prefix === "k" ? "K" : prefix) + "i"; }
    return { factor: factor, unit: prefix + (kind === "b" && !prefix ? "bit" : kind) };
  }
  function three(value) {
    if (value === 0) { return "0"; }
    var size = Math.floor(Math.log10(Math.abs(value)));
    return size < -3 ? value.toExponential(2) : (size >= 3 ? Math.round(value / Math.pow(10, size - 2)) * Math.pow(10, size - 2) : +value.toPrecision(3)).toLocaleString("en", { maximumFractionDigits: Math.max(0, 2 - size) });
  }
  function converted(text) {
    if (!units.binary && !units.bits) { return text; }
    return text.replace(inText, function (all, number, space, unit, per) {
      var to = shownAs(unit), value = parseFloat(number.replace(/,/g, ""));
      if (to.factor === 1 && to.unit === unit) { return all; }
      return (unit === "B" ? (value * to.factor).toLocaleString("en") : three(value * to.factor)) + space + to.unit + per;
    });
  }
  function renamed(title) {
    var found = inBrackets.exec(title || "");
    if (!found) { return { factor: 1, title: title }; }
    var to = shownAs(found[2]);
    return { factor: to.factor, title: title.replace(inBrackets, "$1" + to.unit + "$3") };
  }
  function scaled(values, factor) {
    return Array.isArray(values) ? values.map(function (v) { return scaled(v, factor); }) : typeof values === "number" ? values * factor : values;
  }
  function rescaled(chart) {
    if (!units.binary && !units.bits) { return chart; }
    var copy = JSON.parse(JSON.stringify({ data: chart.data, layout: chart.layout }));
    Object.keys(copy.layout).filter(function (k) { return /^[xy]axis\d*$/.test(k); }).forEach(function (key) {
      var axis = copy.layout[key], letter = key[0], name = key.replace("axis", "");
      var to = renamed(axis.title && axis.title.text);
      if (!axis.title || to.title === axis.title.text) { return; }
      axis.title.text = to.title;
      if (axis.range) { axis.range = scaled(axis.range, to.factor); }
      copy.data.forEach(function (trace) {
        if ((trace[letter + "axis"] || letter) !== name) { return; }
        trace[letter] = scaled(trace[letter], to.factor);
        if (trace.base !== undefined && (trace.orientation === "h") === (letter === "x")) { trace.base = scaled(trace.base, to.factor); }
        var error = trace["error_" + letter];
        if (error) { error.array = scaled(error.array, to.factor); error.arrayminus = scaled(error.arrayminus, to.factor); }
        if (typeof trace.hovertemplate === "string") { trace.hovertemplate = trace.hovertemplate.replace(/(%\{[^}]*\} )([kMGTP]?B)((?:\/s)?)/g, function (all, value, unit, per) { return value + shownAs(unit).unit + per; }); }
      });
      (copy.layout.shapes || []).concat(copy.layout.annotations || []).forEach(function (mark) {
        if (mark[letter + "ref"] === name) { [letter, letter + "0", letter + "1"].forEach(function (k) { if (mark[k] !== undefined) { mark[k] = scaled(mark[k], to.factor); } }); }
      });
    });
    (copy.layout.annotations || []).forEach(function (note) { note.text = converted(note.text); });
    copy.data.forEach(function (trace) { if (typeof trace.text === "string") { trace.text = converted(trace.text); } else if (Array.isArray(trace.text)) { trace.text = trace.text.map(function (t) { return typeof t === "string" ? converted(t) : t; }); } });
    return copy;
  }
  function rowsOf(csv) {
    var rows = [[]], field = "", quoted = false;
    for (var i = 0; i < csv.length; i++) {
      var c = csv[i];
      if (quoted) { if (c === '"' && csv[i + 1] === '"') { field += c; i++; } else if (c === '"') { quoted = false; } else { field += c; } }
      else if (c === '"') { quoted = true; }
      else if (c === ",") { rows[rows.length - 1].push(field); field = ""; }
      else if (c === "\n") { rows[rows.length - 1].push(field.replace(/\r$/, "")); field = ""; rows.push([]); }
      else { field += c; }
    }
    return rows;
  }
  function unitsOfTable(box) {
    var table = box.querySelector("table"), exact = null;
    Array.prototype.forEach.call(table.tHead.rows[0].cells, function (head, c) {
      if (head.ppText === undefined) { head.ppText = head.textContent; }
      var to = renamed(head.ppText);
      if (to.title === head.ppText && head.textContent === head.ppText) { return; }
      head.textContent = to.title;
      Array.prototype.forEach.call(table.tBodies[0].rows, function (row, r) {
        var cell = row.cells[c];
        if (cell.ppText === undefined) { cell.ppText = cell.textContent; }
        exact = exact || rowsOf(JSON.parse(box.querySelector("script.csv").textContent));
        var value = parseFloat((exact[r + 1] || [])[c]);
        cell.textContent = to.factor === 1 || !isFinite(value) ? cell.ppText : three(value * to.factor).replace("-", "\u2212");
      });
    });
  }
  function unitsIn(within) {
    Array.prototype.forEach.call(within.querySelectorAll(".table"), unitsOfTable);
    Array.prototype.forEach.call(within.querySelectorAll(".outputs, .answer"), function (box) {
      var walk = document.createTreeWalker(box, NodeFilter.SHOW_TEXT), node;
      while ((node = walk.nextNode())) {
        if (node.parentElement.closest("script, svg, pre, button, th, td.n, .player")) { continue; }
        if (node.ppText === undefined) { if (!units.binary && !units.bits) { continue; } node.ppText = node.data; }
        var text = converted(node.ppText);
        if (node.data !== text) { node.data = text; }
      }
    });
  }
  function toggleUnits(button, name) {
    units[name] = !units[name];
    pressed(button, units[name]);
    unitsIn(document);
    drawAll();
  }

  // Playing: bars are cut at the time of the clock, and a line stands there.
  function stateAt(chart, time) {
    var going = [];
    chart.data.forEach(function (trace) {
      (trace.base || []).forEach(function (start, i) { if (start <= time && time < start + trace.x[i]) { going.push(trace.y[i] + ": " + trace.name); } });
    });
    going.sort(function (a, b) { return a.localeCompare(b, "en", { numeric: true }); });
    return "At " + time.toFixed(2) + " " + chart.play.unit + ": " + (going.length === 0 ? "nothing goes on" : going.slice(0, 8).join("; ") + (going.length > 8 ? "; and " + (going.length - 8) + " more" : "")) + ".";
  }
  function upTo(chart, time) {
    var copy = JSON.parse(JSON.stringify({ data: chart.data, layout: chart.layout }));
    copy.data.forEach(function (trace) { if (trace.base) { trace.x = trace.x.map(function (length, i) { return Math.max(0, Math.min(length, time - trace.base[i])); }); } });
    copy.layout.shapes = (copy.layout.shapes || []).concat([{ type: "line", xref: "x", yref: "paper", x0: time, x1: time, y0: 0, y1: 1, line: { color: "#1b1b1b", width: 2 } }]);
    return copy;
  }
  function playerOf(element) {
    var figure = element.closest("figure");
    return { plot: figure.querySelector(".pp-plot"), button: figure.querySelector("[data-do=run]"), clock: figure.querySelector(".clock"), now: figure.querySelector(".now") };
  }
  function setTime(player, time) {
    var chart = figureOf(player.plot), span = chart.play.to - chart.play.from;
    player.plot.ppTime = Math.min(chart.play.to, Math.max(chart.play.from, time));
    player.clock.value = 1000 * (player.plot.ppTime - chart.play.from) / span;
    var said = stateAt(chart, player.plot.ppTime).replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&#123;/g, "{").replace(/&#36;/g, "$").replace(/&amp;/g, "&");
    player.now.textContent = said;
    return drawOne(player.plot);
  }
  function stopPlayer(player) { clearInterval(player.plot.ppTimer); player.plot.ppTimer = 0; pressed(player.button, false); player.button.textContent = "Play"; }
  function runPlayer(player) {
    if (player.plot.ppTimer) { stopPlayer(player); return; }
    var chart = figureOf(player.plot), span = chart.play.to - chart.play.from;
    if (player.plot.ppTime === undefined || player.plot.ppTime >= chart.play.to) { setTime(player, chart.play.from); }
    pressed(player.button, true); player.button.textContent = "Stop";
    player.plot.ppTimer = setInterval(function () {
      if (!player.plot.isConnected || player.plot.ppTime >= chart.play.to) { stopPlayer(player); return; }
      setTime(player, player.plot.ppTime + span / 150);
    }, 100);
  }
  // The next moment at which something begins or ends.
  function stepPlayer(player) {
    var chart = figureOf(player.plot), now = player.plot.ppTime === undefined || player.plot.ppTime >= chart.play.to ? -Infinity : player.plot.ppTime, next = chart.play.to;
    if (player.plot.ppTimer) { stopPlayer(player); }
    chart.data.forEach(function (trace) {
      (trace.base || []).forEach(function (start, i) { [start, start + trace.x[i]].forEach(function (t) { if (t > now + 1e-9 && t < next) { next = t; } }); });
    });
    setTime(player, next);
  }

  function drawOne(plot) {
    var map = printing ? light : isDark() ? dark : light;
    var own = figureOf(plot);
    var chart = own.play && plot.ppTime !== undefined && plot.ppTime < own.play.to ? upTo(own, plot.ppTime) : rescaled(own);
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
      case "binary": toggleUnits(button, "binary"); break;
      case "bits": toggleUnits(button, "bits"); break;
      case "run": runPlayer(playerOf(button)); break;
      case "step": stepPlayer(playerOf(button)); break;
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
  document.addEventListener("input", function (event) {
    if (!event.target.classList.contains("clock")) { return; }
    var player = playerOf(event.target), chart = figureOf(player.plot);
    if (player.plot.ppTimer) { stopPlayer(player); }
    setTime(player, chart.play.from + event.target.value / 1000 * (chart.play.to - chart.play.from));
  });
  document.addEventListener("toggle", function (event) {
    if (event.target.tagName === "DETAILS" && event.target.open) { drawAll(event.target); }
  }, true);
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", function () { drawAll(); });
  window.addEventListener("beforeprint", function () { printing = true; drawAll(); });
  window.addEventListener("afterprint", function () { printing = false; drawAll(); });

  window.postpipelinePage = { draw: drawAll, figureOf: figureOf, units: unitsIn };
  if (window.matchMedia("(max-width: 1099px)").matches) {
    var contents = document.querySelector(".contents details");
    if (contents) { contents.open = false; }
  }
  drawAll().then(function () { root.setAttribute("data-ready", "1"); });
})();
