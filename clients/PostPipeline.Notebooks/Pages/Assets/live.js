(function () {
  "use strict";
  var page = window.postpipelinePage;
  var form = document.querySelector(".controls");
  var state = document.querySelector(".state");
  var main = document.getElementById("main");
  var controls = Array.prototype.slice.call(document.querySelectorAll(".control")).filter(function (c) { return c.getAttribute("data-kind") !== "file"; });
  var past = [];
  var times = {}, drawing = 0;
  var socket, retry = 0, playing = null, busyTimer = null;

  function nameOf(control) { return control.getAttribute("data-parameter"); }
  function kindOf(control) { return control.getAttribute("data-kind"); }
  function read(control) {
    switch (kindOf(control)) {
      case "number": return control.querySelector("input[type=number]").value;
      case "flag": return control.querySelector("input").checked ? "true" : "false";
      case "choice": return control.querySelector("select").value;
      default: return control.querySelector("input").value;
    }
  }
  function write(control, value) {
    switch (kindOf(control)) {
      case "number":
        control.querySelector("input[type=number]").value = value;
        control.querySelector("input[type=range]").value = value; break;
      case "flag": control.querySelector("input").checked = value === "true"; break;
      case "choice": control.querySelector("select").value = value; break;
      default: control.querySelector("input").value = value;
    }
  }
  function values() { var all = {}; controls.forEach(function (c) { all[nameOf(c)] = read(c); }); return all; }
  function accepted() { var all = {}; controls.forEach(function (c) { all[nameOf(c)] = c.getAttribute("data-value"); }); return all; }
  function same(a, b) { return Object.keys(a).every(function (k) { return a[k] === b[k]; }); }

  function say(text, refused) { state.textContent = text; state.classList.toggle("refused", !!refused); }

  // A handout holds its states: the nearest one to what is asked for is shown.
  var held = document.getElementById("grid") ? JSON.parse(document.getElementById("grid").textContent) : null;
  var shownTexts = [];
  function nearest(axis, value) {
    var best = axis.values.indexOf(value);
    if (best >= 0) { return best; }
    best = 0;
    axis.values.forEach(function (v, i) { if (Math.abs(v - value) < Math.abs(axis.values[best] - value)) { best = i; } });
    return best;
  }
  function answer(all) {
    var at = 0, stride = 1, values = {};
    held.axes.forEach(function (axis) {
      var i = nearest(axis, all[axis.name] === undefined ? accepted()[axis.name] : all[axis.name]);
      at += i * stride; stride *= axis.values.length; values[axis.name] = axis.values[i];
    });
    held.states[at].forEach(function (text, i) {
      if (shownTexts[i] !== text) { shownTexts[i] = text; heard({ kind: "shown", cell: held.cells[i], html: held.texts[text] }); }
    });
    heard({ kind: "settled", values: values, milliseconds: 0 });
    setAll(values);
  }

  function send(all) {
    if (held) { answer(all); return; }
    if (socket && socket.readyState === 1) { socket.send(JSON.stringify({ set: all })); }
    else { say("Not connected; trying again."); }
  }
  function change(remember) {
    if (remember !== false && !same(values(), accepted())) {
      var now = accepted();
      if (past.length === 0 || !same(past[past.length - 1], now)) { past.push(now); }
      if (past.length > 200) { past.shift(); }
      document.querySelector("[data-live=back]").disabled = false;
    }
    document.documentElement.setAttribute("data-settled", "0");
    times = { sent: performance.now() };
    send(values());
  }
  function setAll(all) { controls.forEach(function (c) { if (all[nameOf(c)] !== undefined) { write(c, all[nameOf(c)]); } }); }

  function address(all) {
    var query = new URLSearchParams();
    controls.forEach(function (c) { if (all[nameOf(c)] !== c.getAttribute("data-default")) { query.set(nameOf(c), all[nameOf(c)]); } });
    var text = query.toString();
    try { history.replaceState(null, "", location.pathname + (text ? "?" + text : "") + location.hash); }
    catch (refused) { /* a browser may keep the address of a file as it is; the page works without */ }
  }

  // Puts new outputs in place of old ones; a chart that is there already is moved over and redrawn, not made anew.
  function show(cell, html) {
    var section = main.querySelector("section[data-cell='" + cell + "']");
    if (!section) { return; }
    section.classList.remove("busy");
    if (section.ppHtml === html) { return; }
    section.ppHtml = html;
    times.heard = times.heard || performance.now();
    var box = section.querySelector(".outputs");
    var fresh = document.createElement("div");
    fresh.className = "outputs";
    fresh.innerHTML = html;
    var oldPlots = box.querySelectorAll(".pp-plot"), newPlots = fresh.querySelectorAll(".pp-plot");
    Array.prototype.forEach.call(newPlots, function (plot, i) {
      if (!oldPlots[i]) { return; }
      var figure = JSON.parse(plot.parentNode.querySelector("script.figure").textContent);
      oldPlots[i].style.height = plot.style.height; oldPlots[i].ppHeight = undefined;
      oldPlots[i].setAttribute("aria-label", plot.getAttribute("aria-label"));
      oldPlots[i].ppFigure = figure;
      plot.parentNode.replaceChild(oldPlots[i], plot);
    });
    var oldDetails = box.querySelectorAll("details"), newDetails = fresh.querySelectorAll("details");
    Array.prototype.forEach.call(newDetails, function (d, i) { if (oldDetails[i]) { d.open = oldDetails[i].open; } });
    box.parentNode.replaceChild(fresh, box);
    page.units(fresh);
    drawing += 1;
    var mine = times;
    page.draw(fresh).then(function () {
      drawing -= 1;
      makeDraggable(fresh);
      if (newPlots.length > 0) { mine.last = performance.now(); }
    });
    if (Array.prototype.some.call(fresh.querySelectorAll(".pp-plot"), page.inView)) {
      // The page is shown anew at the next frame at the latest; by then what is in view has been drawn.
      requestAnimationFrame(function () { mine.first = mine.first || performance.now(); });
    }
  }

  function makeDraggable(within) {
    Array.prototype.forEach.call(within.querySelectorAll(".pp-plot"), function (plot) {
      var drag = plot.ppFigure && plot.ppFigure.drag;
      var control = drag && controls.filter(function (c) { return nameOf(c) === drag.parameter; })[0];
      if (!control || plot.classList.contains("draggable")) { return; }
      plot.classList.add("draggable");
      plot.addEventListener("pointerdown", function (event) {
        var axis = plot._fullLayout && plot._fullLayout.xaxis;
        if (!axis) { return; }
        var from = event.clientX, atStart = parseFloat(control.getAttribute("data-value"));
        var perPixel = (axis.range[1] - axis.range[0]) / axis._length;
        var scale = plot.ppFigure.drag.perUnit;
        var range = control.querySelector("input[type=range]");
        plot.setPointerCapture(event.pointerId);
        event.preventDefault();
        event.stopPropagation();
        function move(e) {
          var wanted = atStart + (e.clientX - from) * perPixel * scale;
          var value = Math.min(parseFloat(range.max), Math.max(parseFloat(range.min), wanted));
          var step = parseFloat(range.step);
          value = Math.round(value / step) * step;
          write(control, String(parseFloat(value.toFixed(6))));
          change();
        }
        function up(e) {
          plot.removeEventListener("pointermove", move);
          plot.removeEventListener("pointerup", up);
          plot.removeEventListener("pointercancel", up);
        }
        plot.addEventListener("pointermove", move);
        plot.addEventListener("pointerup", up);
        plot.addEventListener("pointercancel", up);
      }, true);
    });
  }

  function heard(message) {
    switch (message.kind) {
      case "busy":
        clearTimeout(busyTimer);
        busyTimer = setTimeout(function () {
          say("Computing …");
          var section = main.querySelector("section[data-cell='" + message.cell + "']");
          if (section) { section.classList.add("busy"); }
        }, 200);
        break;
      case "shown": clearTimeout(busyTimer); show(message.cell, message.html); break;
      case "settled":
        clearTimeout(busyTimer);
        Array.prototype.forEach.call(main.querySelectorAll(".busy"), function (b) { b.classList.remove("busy"); });
        controls.forEach(function (c) {
          var value = message.values[nameOf(c)];
          c.setAttribute("data-value", value);
          if (!form.contains(document.activeElement) || !playing && document.activeElement.closest(".control") !== c) { write(c, value); }
        });
        address(message.values);
        say("Up to date.");
        document.documentElement.setAttribute("data-settled", "1");
        times.settled = performance.now(); times.server = message.milliseconds;
        document.documentElement.setAttribute("data-milliseconds", Math.round(message.milliseconds * 10) / 10);
        break;
      case "refused": setAll(accepted()); say(message.message, true); document.documentElement.setAttribute("data-settled", "1"); break;
    }
  }

  function connect() {
    if (held) { var wanted = {}; new URLSearchParams(location.search).forEach(function (v, n) { wanted[n] = v; }); answer(wanted); return; }
    socket = new WebSocket("ws://" + location.host + "/live");
    socket.onopen = function () {
      retry = 0;
      document.documentElement.setAttribute("data-connected", "1");
      var query = new URLSearchParams(location.search), asked = {}, any = false;
      query.forEach(function (value, name) { asked[name] = value; any = true; });
      if (any) { setAll(asked); document.documentElement.setAttribute("data-settled", "0"); send(asked); } else { document.documentElement.setAttribute("data-settled", "1"); }
    };
    socket.onmessage = function (event) { heard(JSON.parse(event.data)); };
    socket.onclose = function () {
      document.documentElement.setAttribute("data-connected", "0");
      retry += 1;
      if (retry < 6) { say("Not connected; trying again."); setTimeout(connect, 500 * retry); }
      else { say("The command that serves this page has ended. What is shown stays as it is.", true); }
    };
  }

  form.addEventListener("submit", function (event) { event.preventDefault(); change(); });
  form.addEventListener("input", function (event) {
    var control = event.target.closest(".control");
    if (event.target.type === "range") { control.querySelector("input[type=number]").value = event.target.value; change(); }
    else if (event.target.tagName === "SELECT" || event.target.type === "checkbox") { change(); }
  });
  form.addEventListener("change", function (event) {
    var control = event.target.closest(".control");
    if (event.target.type === "number") {
      if (!event.target.checkValidity() || event.target.value === "") {
        say(event.target.validationMessage || "Write a number.", true); return;
      }
      control.querySelector("input[type=range]").value = event.target.value; change();
    } else if (event.target.type === "text" || (event.target.type === "date" && event.target.value)) { change(); }
  });

  function stopPlaying() { if (playing) { clearInterval(playing.timer); playing.button.setAttribute("aria-pressed", "false"); playing.button.textContent = "Play"; playing = null; } }
  function play(button) {
    if (playing && playing.button === button) { stopPlaying(); return; }
    stopPlaying();
    var range = button.closest(".control").querySelector("input[type=range]");
    var steps = (range.max - range.min) / range.step, stride = Math.max(1, Math.round(steps / 60)) * range.step;
    if (parseFloat(range.value) >= parseFloat(range.max)) { range.value = range.min; }
    button.setAttribute("aria-pressed", "true"); button.textContent = "Stop";
    playing = { button: button, timer: setInterval(function () {
      if (document.documentElement.getAttribute("data-settled") === "0") { return; }
      if (parseFloat(range.value) >= parseFloat(range.max)) { stopPlaying(); return; }
      range.value = parseFloat(range.value) + stride;
      range.dispatchEvent(new Event("input", { bubbles: true }));
    }, 250) };
  }

  function freeze(button) {
    var shell = document.querySelector(".page"), beside = document.querySelector(".beside");
    if (beside) { beside.remove(); shell.classList.remove("compared"); button.setAttribute("aria-pressed", "false"); button.textContent = "Keep this beside"; page.draw(); return; }
    beside = document.createElement("aside");
    beside.className = "beside"; beside.setAttribute("aria-label", "Kept beside");
    var was = document.createElement("p"); was.className = "was";
    was.textContent = "Kept: " + controls.map(function (c) {
      return nameOf(c) + " " + c.getAttribute("data-value");
    }).join(" · ");
    beside.appendChild(was);
    var plots = main.querySelectorAll(".pp-plot"), copy = main.cloneNode(true);
    copy.removeAttribute("id");
    Array.prototype.forEach.call(copy.querySelectorAll("[id]"), function (e) { e.removeAttribute("id"); });
    Array.prototype.forEach.call(copy.querySelectorAll(".pp-plot"), function (plot, i) {
      var fresh = document.createElement("div");
      fresh.className = "pp-plot"; fresh.style.height = plot.style.height; fresh.setAttribute("role", "img"); fresh.setAttribute("aria-label", plot.getAttribute("aria-label"));
      fresh.ppFigure = JSON.parse(JSON.stringify(page.figureOf(plots[i])));
      plot.parentNode.replaceChild(fresh, plot);
    });
    while (copy.firstChild) { beside.appendChild(copy.firstChild); }
    shell.appendChild(beside); shell.classList.add("compared");
    button.setAttribute("aria-pressed", "true"); button.textContent = "Drop what is beside";
    page.draw();
  }

  var parts = [], at = 0, stepping = false;
  function gatherParts() {
    parts = [[]];
    Array.prototype.forEach.call(main.children, function (child) {
      if (child.querySelector && child.querySelector("h2")) { parts.push([]); }
      parts[parts.length - 1].push(child);
    });
  }
  function showPart() {
    parts.forEach(function (part, i) { part.forEach(function (e) { e.classList.toggle("away", stepping && i !== at); }); });
    page.draw(); if (stepping) { window.scrollTo(0, 0); }
  }

  document.addEventListener("click", function (event) {
    var button = event.target.closest ? event.target.closest("button[data-live]") : null;
    if (!button) { return; }
    switch (button.getAttribute("data-live")) {
      case "reset": stopPlaying(); controls.forEach(function (c) { write(c, c.getAttribute("data-default")); }); change(); break;
      case "back": stopPlaying(); if (past.length) { setAll(past.pop()); change(false); } button.disabled = past.length === 0; break;
      case "play": play(button); break;
      case "freeze": freeze(button); break;
      case "steps":
        stepping = !stepping; gatherParts(); at = 0; button.setAttribute("aria-pressed", stepping);
        document.querySelector(".stepper").hidden = !stepping; showPart(); break;
      case "next": at = Math.min(parts.length - 1, at + 1); showPart(); break;
      case "previous": at = Math.max(0, at - 1); showPart(); break;
    }
  });
  page.times = function () { return drawing === 0 && times.settled ? { sent: times.sent, heard: times.heard, first: times.first, last: times.last, settled: times.settled, server: times.server } : null; };
  setTimeout(function () { makeDraggable(document); }, 500);
  if (document.readyState === "complete") { connect(); } else { window.addEventListener("load", connect); }
})();
