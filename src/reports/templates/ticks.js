// Keeps the ticks after a reload, apart for every plan. The page is complete without it.
(function () {
  var key = "cardwright-ticks-" + document.documentElement.dataset.plan;
  var boxes = Array.prototype.slice.call(document.querySelectorAll("input[type=checkbox]"));
  try {
    var show = function (text) {
      var kept = JSON.parse(text || "[]");
      boxes.forEach(function (box) { box.checked = kept.indexOf(box.id) >= 0; });
    };
    show(localStorage.getItem(key));
    document.addEventListener("change", function () {
      var ticked = boxes.filter(function (box) { return box.checked; });
      localStorage.setItem(key, JSON.stringify(ticked.map(function (box) { return box.id; })));
    });
    // Ticked in another window, or on the phone.
    window.addEventListener("storage", function (event) {
      if (event.key === key) { show(event.newValue); boxes[0].dispatchEvent(new Event("told", { bubbles: true })); }
    });
  } catch (unavailable) { /* no storage here: ticks last as long as the page is open */ }
})();
