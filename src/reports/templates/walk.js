// One step at a time. All words stand on the page: this shows and hides, counts, and keeps its place.
(function () {
  var walk = document.getElementById("walk");
  var find = function (selector, within) { return (within || walk).querySelector(selector); };
  var all = function (selector, within) { return Array.prototype.slice.call((within || walk).querySelectorAll(selector)); };
  var stops = all(".stop");
  var cuts = stops.filter(function (stop) { return stop.dataset.from; });
  var key = "cardwright-walk-" + document.documentElement.dataset.plan;
  var kept = { at: "", lifts: {}, spoiled: {} };
  var isStored = true, here = 0, panel = null, opener = null;

  // What is kept: in the browser, and where that keeps nothing, in the address.
  try { kept = JSON.parse(localStorage.getItem(key)) || kept; } catch (unavailable) {
    isStored = false;
    try { kept = JSON.parse(decodeURIComponent(location.hash.split("&")[1])); } catch (nothing) { /* a first visit */ }
  }
  function keep() {
    kept.at = stops[here].id;
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch (unavailable) { isStored = false; }
    var address = "#at-" + kept.at + (isStored ? "" : "&" + encodeURIComponent(JSON.stringify(kept)));
    if (location.hash !== address) { location.replace(address); }
  }

  // The boxes of the whole page, which keeps them.
  function boxes(stop) {
    var shown = stop.dataset.shows;
    if (shown) { return all("input[type=checkbox]", document.getElementById(shown)); }
    return stop.dataset.tick ? [document.getElementById(stop.dataset.tick)] : [];
  }
  function rowOf(stop) { return boxes(stop)[0].closest("tr"); }
  function isDone(stop) { return boxes(stop).every(function (box) { return box.checked; }); }
  function tick(stop, on) { boxes(stop).forEach(function (box) { if (box.checked !== on) { box.click(); } }); }
  function liftsOf(stop) { return isDone(stop) ? +stop.dataset.lifts : kept.lifts[stop.dataset.tick] || 0; }
  function reached() {
    var steps = 0;
    while (steps < cuts.length && isDone(cuts[steps])) { steps += 1; }
    return { steps: steps, lifts: steps < cuts.length ? liftsOf(cuts[steps]) : 0 };
  }
  function isWalking() { return document.body.classList.contains("walking"); }

  function show(at) {
    here = Math.max(0, Math.min(at, stops.length - 1));
    var stop = stops[here];
    close();
    stops.forEach(function (other) { other.hidden = other !== stop; });
    all(".now", document).forEach(function (other) { other.classList.remove("now"); });
    var shown = stop.dataset.shows && document.getElementById(stop.dataset.shows);
    if (shown) { shown.classList.add("now"); }
    if (stop.dataset.from && !find(".out", stop)) {
      all(".dimension, .warn", rowOf(stop).parentNode.querySelector(".setting")).forEach(function (part) {
        find(".at", stop).append(part.cloneNode(true), " ");
      });
      stop.append(find(".out", rowOf(stop)).cloneNode(true));
    }
    tell();
    keep();
    window.scrollTo(0, 0);
    find("#now").textContent = find("h2", shown || stop).textContent + ". " + stop.dataset.place;
  }

  // The bar, the lifts and the counts, as they are now.
  function tell() {
    var stop = stops[here], data = stop.dataset, lifts = +data.lifts || 0, sum = 0;
    find(".place").textContent = data.place;
    find(".left").hidden = !data.left;
    find(".left b").textContent = data.left || "";
    find("progress").max = stops.length;
    find("progress").value = here + 1;
    find("[data-do=back]").setAttribute("aria-disabled", here === 0);
    find("[data-do=next]").setAttribute("aria-disabled", here === stops.length - 1);
    find("[data-do=done]").setAttribute("aria-pressed", boxes(stop).length > 0 && isDone(stop));
    find(".mind").hidden = !data.from;
    find(".lifted").hidden = lifts < 2;
    find(".lifted .done").textContent = liftsOf(stop);
    find(".lifted .of").textContent = lifts;
    for (var name in kept.spoiled) { sum += kept.spoiled[name]; }
    find(".sum").hidden = !sum;
    find(".sum").textContent = sum;
  }

  function done() {
    var stop = stops[here];
    if (stop.dataset.ends !== undefined) { open("stop", find("[data-do=done]")); return; }
    if (boxes(stop).length && isDone(stop)) {
      delete kept.lifts[stop.dataset.tick];
      tick(stop, false);
      tell();
      keep();
    } else {
      tick(stop, true);
      show(here + 1);
    }
  }
  function lift(by) {
    var stop = stops[here], lifts = Math.max(0, liftsOf(stop) + by);
    if (lifts > +stop.dataset.lifts) { return; }
    kept.lifts[stop.dataset.tick] = lifts;
    if (lifts === +stop.dataset.lifts) { tick(stop, true); show(here + 1); return; }
    tick(stop, false);
    tell();
    keep();
  }

  // What may be spoiled: the stack or the pieces of a stop, and what its row says comes out.
  function own(stop) {
    var data = stop.dataset;
    if (data.from && data.whole === undefined) { return [{ name: data.from, count: +data.plates, label: "stack " + data.from, isStack: true }]; }
    return data.piece ? [{ name: data.piece, count: +data.count, label: data.piece }] : [];
  }
  var known = cuts.map(function (cut) {
    return all(".stack, .piece", rowOf(cut)).map(function (row) {
      var words = all("b", row), name = words[1].textContent, isStack = row.className === "stack";
      return { name: name, count: +words[0].textContent, label: isStack ? "stack " + name : name, isStack: isStack };
    });
  });
  function outs(stop) { return known[cuts.indexOf(stop)] || []; }
  function flat(lists) { return [].concat.apply([], lists); }
  function names(name) { return function (row) { return row.name === name; }; }
  function most(name) {
    var made = flat(known).filter(names(name)).reduce(function (sum, row) { return sum + row.count; }, 0);
    return flat(stops.map(own)).filter(names(name)).reduce(function (most, row) { return Math.max(most, row.count); }, made);
  }
  function spoil() {
    var rows = own(stops[here]).concat(outs(stops[here])), list = find(".counts");
    var rest = flat(known).concat(flat(stops.map(own)));
    var add = function (row) { if (!rows.some(names(row.name))) { rows.push(row); } };
    rest.filter(function (row) { return kept.spoiled[row.name]; }).forEach(add);
    if (!rows.length) { rest.filter(function (row) { return !row.isStack; }).forEach(add); }
    list.textContent = "";
    rows.forEach(function (row) {
      var item = find("#spoiled-row").content.firstElementChild.cloneNode(true);
      find(".name", item).textContent = row.label;
      find("output", item).textContent = kept.spoiled[row.name] || 0;
      all("button", item).forEach(function (button) {
        button.setAttribute("aria-label", button.getAttribute("aria-label") + " " + row.label);
        button.addEventListener("click", function () {
          var count = (kept.spoiled[row.name] || 0) + +button.dataset.by;
          count = Math.max(0, Math.min(count, most(row.name)));
          if (count) { kept.spoiled[row.name] = count; } else { delete kept.spoiled[row.name]; }
          find("output", item).textContent = count;
          tell();
          keep();
        });
      });
      list.appendChild(item);
    });
  }

  // All that came out so far.
  function madeBy(far) { return flat(known.slice(0, far.steps + (far.lifts ? 1 : 0))); }
  // Sheets of a stack that is cut by now are the pieces that they would have been.
  function spoiledBy(far) {
    var there = {}, absent = [];
    var stepOf = function (letter) { return cuts.findIndex(function (cut) { return cut.dataset.from === letter; }); };
    var isMade = function (name) { return madeBy(far).some(names(name)); };
    var add = function (name, count, isStack) {
      var at = isStack ? stepOf(name) : -1;
      if (at >= 0 && at < far.steps) {
        known[at].forEach(function (out) { add(out.name, count * out.count / cuts[at].dataset.plates, out.isStack); });
      } else if (isMade(name) || !cuts.length) { there[name] = (there[name] || 0) + count; } else { absent.push(name); }
    };
    Object.keys(kept.spoiled).sort().forEach(function (name) {
      add(name, kept.spoiled[name], cuts.some(function (cut) { return cut.dataset.from === name; }));
    });
    return { there: there, absent: absent };
  }

  function word(text) {
    if (/^[\w.\/+=:-]+$/.test(text)) { return text; }
    return /["$`\\!%]/.test(text) ? "'" + text.replace(/'/g, "'\\''") + "'" : '"' + text + '"';
  }
  // The folder of this page, where it is opened from where it was written.
  function report() {
    var parts = decodeURIComponent(location.pathname).split("/");
    if (location.protocol !== "file:" || parts.pop() !== "schedule.html") { return find("#settle").dataset.report; }
    if (parts[parts.length - 2] === "reports") { return word(parts.slice(-2).join("/")); }
    return word(parts.join("/").replace(/^\/([A-Za-z]:)/, "$1"));
  }
  function stopHere() {
    var far = reached(), spoiled = spoiledBy(far), isAll = far.steps === cuts.length;
    var command = ["cardwright", "settle", report()];
    if (!isAll) { command.push("--done", far.lifts ? far.steps + 1 + ":" + far.lifts : far.steps); }
    Object.keys(spoiled.there).forEach(function (name) { command.push("--spoiled", word(name + "=" + spoiled.there[name])); });
    var gap = cuts.some(function (cut, at) { return at > far.steps && (isDone(cut) || liftsOf(cut)); });
    var begun = isAll || far.steps > 0 || far.lifts > 0;
    var made = madeBy(far);
    var waits = cuts.slice(far.steps).map(function (cut) { return cut.dataset.from; });
    waits = waits.filter(function (letter) { return made.some(names(letter)); });
    var tell = function (name, isTold, text) {
      find("#stop ." + name).hidden = !isTold;
      if (text !== undefined) { find("#stop ." + name + " b").textContent = text; }
    };
    find("#settle").textContent = "";
    command.forEach(function (part, at) {
      var span = document.createElement("span");
      span.textContent = part;
      find("#settle").append(at ? " " : "", span);
    });
    tell("some", begun);
    tell("none", !begun);
    tell("waits", waits.length > 0, waits.join(", "));
    tell("gap", gap, gap ? cuts[far.steps].dataset.tick.slice(5) : "");
    tell("absent", spoiled.absent.length > 0, spoiled.absent.join(", "));
    tell("typed", begun && Object.keys(spoiled.there).length > 0);
  }
  function copy() {
    var range = document.createRange();
    range.selectNodeContents(find("#settle"));
    getSelection().removeAllRanges();
    getSelection().addRange(range);
    try { document.execCommand("copy"); } catch (refused) { /* it is marked, to be copied by hand */ }
  }

  // Panels.
  function open(name, button) {
    var isOpen = panel && panel.id === name;
    close();
    if (isOpen) { return; }
    if (name === "spoiled") { spoil(); } else { stopHere(); }
    panel = document.getElementById(name);
    opener = button;
    panel.hidden = false;
    button.setAttribute("aria-expanded", "true");
    find("h2", panel).focus();
    panel.scrollIntoView();
  }
  function close() {
    if (!panel) { return; }
    panel.hidden = true;
    panel = null;
    opener.setAttribute("aria-expanded", "false");
    opener.focus();
  }

  function enter(at) {
    document.body.classList.add("walking");
    walk.hidden = false;
    show(at);
  }
  function leave() {
    close();
    document.body.classList.remove("walking");
    walk.hidden = true;
    location.replace("#summary");
    greet();
  }
  function placeOf(id) { return stops.findIndex(function (stop) { return stop.id === id; }); }
  function greet() {
    find(".begin", document).hidden = false;
    find(".begin .at-first", document).hidden = !!kept.at;
    find(".begin .again", document).hidden = !kept.at;
  }
  function follow() {
    var at = placeOf(location.hash.slice(4).split("&")[0]);
    if (at >= 0 && (!isWalking() || at !== here)) { enter(at); }
  }

  var tasks = {
    back: function () { if (here > 0) { show(here - 1); } },
    next: function () { if (here < stops.length - 1) { show(here + 1); } },
    done: done,
    lift: function () { lift(1); },
    unlift: function () { lift(-1); },
    spoil: function (button) { open("spoiled", button); },
    stop: function (button) { open("stop", button); },
    close: close,
    copy: copy,
    recorded: function () { kept.spoiled = {}; tell(); keep(); stopHere(); },
    leave: leave
  };
  walk.addEventListener("click", function (event) {
    var button = event.target.closest("[data-do]");
    if (button) { tasks[button.dataset.do](button); }
  });
  document.getElementById("begin").addEventListener("click", function () { enter(placeOf(kept.at)); });
  document.addEventListener("keydown", function (event) {
    if (!isWalking() || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) { return; }
    if (event.key === "ArrowRight") { tasks.next(); } else if (event.key === "ArrowLeft") { tasks.back(); } else if (event.key === "Escape") { close(); } else { return; }
    event.preventDefault();
  });
  document.addEventListener("change", function () { if (isWalking()) { tell(); } });
  // What is ticked and counted elsewhere is told here; where she stands is her own.
  document.addEventListener("told", function () { if (isWalking()) { tell(); } });
  window.addEventListener("storage", function (event) {
    if (event.key !== key || !event.newValue) { return; }
    var told = JSON.parse(event.newValue);
    kept.lifts = told.lifts;
    kept.spoiled = told.spoiled;
    if (isWalking()) { tell(); }
  });
  window.addEventListener("hashchange", follow);
  greet();
  follow();
})();
