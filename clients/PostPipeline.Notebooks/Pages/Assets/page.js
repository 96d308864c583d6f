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
  var units = { binary: false, bits: false }, changedUnits = false;
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
    if (!changedUnits) { return; }
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
    changedUnits = true;
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
    copy.data.forEach(function (trace) { if (trace.base) { trace.x = trace.x.map(function (length, i) { return time > trace.base[i] ? Math.min(length, time - trace.base[i]) : null; }); } });
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

  // On a narrow screen margins are ours: left to itself the library widens them for long labels until no room is left for the
  // chart. Long names of rows stand in two lines and are cut, whole in the table below.
  function fitNarrow(layout, data, width, height) {
    if (layout.yaxis && layout.yaxis.type === "multicategory") { flatten(layout.yaxis, data); }
    var size = layout.font.size, room = Math.max(8, Math.floor(0.34 * width / (0.58 * size))), longest = 0, titles = 0, upright = 0, tall = 0, aside = {};
    // What stands at the right edge beside a row would lie on the row's marks: it goes below the row's name.
    layout.annotations = (layout.annotations || []).filter(function (note) {
      var row = note.xref === "paper" && note.x === 1 && typeof note.y === "string";
      if (row) { aside[note.y] = note.text; }
      return !row;
    });
    Object.keys(layout).filter(function (k) { return /^[xy]axis\d*$/.test(k); }).forEach(function (key) {
      var axis = layout[key], letter = key[0], name = key.replace("axis", "");
      axis.automargin = false;
      if (letter === "x") {
        // Labels at places of their own stand upright beside each other; all others are as many as fit.
        axis.tickangle = axis.ticktext ? -60 : 0;
        (axis.ticktext || []).forEach(function (text) { upright = Math.max(upright, 0.52 * size * text.length); });
        return;
      }
      var share = axis.domain ? axis.domain[1] - axis.domain[0] : 1;
      if (axis.title && axis.title.text) {
        axis.title.text = inLines(axis.title.text, Math.floor(share * (height - 120) / (0.56 * size)));
        titles = Math.max(titles, axis.title.text.split("<br>").length);
      }
      var names = [];
      data.forEach(function (trace) { if ((trace.yaxis || "y") === name && Array.isArray(trace.y)) { trace.y.forEach(function (v) { if (typeof v === "string" && names.indexOf(v) < 0) { names.push(v); } }); } });
      if (axis.ticktext) { names = axis.ticktext; }
      if (names.length === 0) { longest = Math.max(longest, 5); return; }
      if (!axis.ticktext) { axis.tickmode = "array"; axis.tickvals = names; }
      axis.ticktext = names.map(function (text) { return inLines(text, room) + (aside[text] ? "<br>" + aside[text] : ""); });
      var high = 1;
      axis.ticktext.forEach(function (text) { var parts = text.split("<br>"); high = Math.max(high, parts.length); parts.forEach(function (line) { longest = Math.max(longest, line.length); }); });
      // Names in two lines would run into each other where rows are close.
      tall = Math.max(tall, names.length * (0.2 + 1.35 * high) * size / share);
      if (axis.title) { axis.title = { text: "" }; }
    });
    var left = Math.min(0.42 * width, 12 + 1.4 * size * titles + 0.58 * size * longest), lines = 1;
    Object.keys(layout).filter(function (k) { return /^xaxis\d*$/.test(k); }).forEach(function (key) { layout[key].nticks = Math.max(3, Math.floor((width - left) / (6 * size))); });
    if (layout.xaxis && layout.xaxis.title && layout.xaxis.title.text) {
      layout.xaxis.title.text = inLines(layout.xaxis.title.text, Math.floor((width - left) / (0.62 * size)));
      lines = layout.xaxis.title.text.split("<br>").length;
    }
    var rows = legendRows(layout, data, width, size);
    layout.margin = { l: left, r: 14, t: 40 + 1.6 * size * rows, b: 38 + upright + 1.4 * size * lines };
    (layout.annotations || []).forEach(function (note) { if (note.yref === "paper" && note.xref === "x" && note.xanchor === "auto") { note.xanchor = place(note.x, data) > 0.5 ? "right" : "left"; } });
    // The library scrolls a legend that is taller than what lies between the margins.
    return Math.max(0, layout.margin.t + layout.margin.b - 140, layout.margin.t + layout.margin.b + 1.65 * size * rows + 12 - height, layout.margin.t + layout.margin.b + tall - height);
  }
  // A legend in a row stands in columns as wide as its widest name.
  function legendRows(layout, data, width, size) {
    var names = {}, widest = 0;
    if (layout.showlegend) { data.forEach(function (trace) { if (trace.showlegend !== false && trace.name) { names[trace.name] = 1; widest = Math.max(widest, trace.name.length); } }); }
    var count = Object.keys(names).length;
    return count === 0 ? 0 : Math.ceil(count / Math.max(1, Math.floor((width - 20) / (50 + 0.6 * size * widest))));
  }
  // Where along x something stands, 0 to 1.
  function place(x, data) {
    var number = function (v) { return typeof v === "number" ? v : Date.parse(v); }, least = Infinity, most = -Infinity, days = typeof x !== "number";
    data.forEach(function (trace) { (days && Array.isArray(trace.base) ? trace.base : trace.x || []).forEach(function (v) { v = number(v); if (v < least) { least = v; } if (v > most) { most = v; } });
      if (!days && trace.type === "bar") { least = Math.min(least, 0); }
    });
    return most > least ? (number(x) - least) / (most - least) : 0;
  }
  // Rows in groups as rows of one list; the first of a group carries the group's name.
  function flatten(axis, data) {
    var groups = [], rows = {};
    data.forEach(function (trace) {
      trace.y = trace.y[0].map(function (group, i) {
        if (!rows[group]) { rows[group] = []; groups.push(group); }
        if (rows[group].indexOf(trace.y[1][i]) < 0) { rows[group].push(trace.y[1][i]); }
        return group + "\u0001" + trace.y[1][i];
      });
    });
    axis.type = "category"; axis.tickmode = "array"; axis.tickvals = []; axis.ticktext = []; axis.categoryorder = "array";
    groups.forEach(function (group) {
      rows[group].forEach(function (row, i) { axis.tickvals.push(group + "\u0001" + row); axis.ticktext.push(i === 0 ? "<b>" + group + "</b><br>" + row : row); });
    });
    axis.categoryarray = axis.tickvals;
  }
  function inLines(text, room) {
    if (text.length <= room || text.indexOf("<br>") >= 0) { return text; }
    var cut = text.lastIndexOf(" ", room);
    cut = cut > room / 2 ? cut : room;
    var rest = text.slice(cut).trim();
    return text.slice(0, cut) + "<br>" + (rest.length > room ? rest.slice(0, room - 1) + "\u2026" : rest);
  }

  // The width between the margins of a page of A4, less a little, in CSS pixels.
  var PaperWidth = 660;
  function drawOne(plot) {
    var map = printing ? light : isDark() ? dark : light;
    var own = figureOf(plot);
    var chart = own.play && plot.ppTime !== undefined && plot.ppTime < own.play.to ? upTo(own, plot.ppTime) : rescaled(own);
    var layout = themed(chart.layout, map), wide = printing ? PaperWidth : plot.clientWidth, narrow = wide < 520, more = 0;
    layout.autosize = true;
    if (plot.ppHeight === undefined) { plot.ppHeight = parseFloat(plot.style.height) || plot.clientHeight; }
    layout.font.size = printing ? 12 : root.classList.contains("large") ? 19 : narrow ? 12 : 14;
    plot.ppWidth = plot.clientWidth;
    var data = themed(chart.data, map);
    if (!printing && layout.font.size > 14) { enlarge(layout, data, layout.font.size / 14); }
    if (narrow) { more = fitNarrow(layout, data, wide, plot.ppHeight); }
    plot.style.height = plot.ppHeight + more + "px";
    layout.height = plot.ppHeight + more;
    if (printing) { layout.autosize = false; layout.width = PaperWidth; }
    return window.Plotly.react(plot, data, layout, { responsive: false, displaylogo: false, displayModeBar: false }).then(function () {
      plot.setAttribute("data-drawn", "1");
    });
  }

  // Large type: text with a size of its own grows with the rest.
  function enlarge(layout, data, times) {
    (layout.annotations || []).forEach(function (note) { if (note.font && note.font.size) { note.font.size = Math.max(18, note.font.size * times); } });
    data.forEach(function (trace) { if (trace.textfont && trace.textfont.size) { trace.textfont.size = Math.max(18, trace.textfont.size * times); } });
    data.forEach(function (trace) { if (trace.marker && trace.marker.pattern) { trace.marker.pattern.size *= times; } });
  }

  // What is in view is drawn at once; the rest waits its turn, one chart at a time, so that a key or a newer output is heard
  // in between. A chart that waits is drawn once, with the newest figure that it was given.
  var printing = false, waiting = [], pump = 0;
  function inView(plot) { var box = plot.getBoundingClientRect(); return box.bottom > 0 && box.top < window.innerHeight; }
  function next() {
    pump = 0;
    if (waiting.length === 0) { return; }
    var at = waiting.findIndex(function (w) { return inView(w.plot); }), one = waiting.splice(Math.max(0, at), 1)[0];
    (one.plot.isConnected && one.plot.offsetParent !== null ? drawOne(one.plot) : Promise.resolve()).then(one.done, one.done);
    if (waiting.length > 0) { pump = setTimeout(next, 0); }
  }
  function wait(plot) {
    var one = waiting.filter(function (w) { return w.plot === plot; })[0];
    if (!one) {
      one = { plot: plot };
      one.drawn = new Promise(function (done) { one.done = done; });
      waiting.push(one);
    }
    if (!pump) { pump = setTimeout(next, 0); }
    return one.drawn;
  }
  function drawAll(within, wanted) {
    var all = Array.prototype.slice.call((within || document).querySelectorAll(".pp-plot")).filter(function (p) { return p.offsetParent !== null && (!wanted || wanted(p)); });
    var seen = all.filter(function (p) { return printing || inView(p); });
    return Promise.all(all.map(function (p) { return seen.indexOf(p) >= 0 ? drawOne(p) : wait(p); }));
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
  // A window that has come to rest at another width: charts are laid out anew, those whose width stayed are left alone.
  var resting = 0;
  window.addEventListener("resize", function () {
    clearTimeout(resting);
    resting = setTimeout(function () { if (!printing) { drawAll(document, function (p) { return p.ppWidth !== p.clientWidth; }); } }, 100);
  });
  window.addEventListener("beforeprint", function () { printing = true; drawAll(); });
  window.addEventListener("afterprint", function () { printing = false; drawAll(); });

  window.postpipelinePage = { draw: drawAll, figureOf: figureOf, units: unitsIn, inView: inView };
  if (window.matchMedia("(max-width: 1099px)").matches) {
    var contents = document.querySelector(".contents details");
    if (contents) { contents.open = false; }
  }
  drawAll().then(function () { root.setAttribute("data-ready", "1"); });
})();
