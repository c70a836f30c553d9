// Keeps the ticks after a reload, apart for every plan. The page is complete without it.
(function () {
  var key = "cardwright-ticks-" + document.documentElement.dataset.plan;
  var boxes = Array.prototype.slice.call(document.querySelectorAll("input[type=checkbox]"));
  try {
    var kept = JSON.parse(localStorage.getItem(key) || "[]");
    boxes.forEach(function (box) { box.checked = kept.indexOf(box.id) >= 0; });
    document.addEventListener("change", function () {
      var ticked = boxes.filter(function (box) { return box.checked; });
      localStorage.setItem(key, JSON.stringify(ticked.map(function (box) { return box.id; })));
    });
  } catch (unavailable) { /* no storage here: ticks last as long as the page is open */ }
})();
