/* Printing: tables that are folded away come out on paper, and fold again afterwards. */
(function () {
  "use strict";
  var opened = [];

  window.addEventListener("beforeprint", function () {
    opened = Array.from(document.querySelectorAll("main details:not([open])"));
    opened.forEach(function (item) {
      item.open = true;
    });
  });
  window.addEventListener("afterprint", function () {
    opened.forEach(function (item) {
      item.open = false;
    });
  });
})();
