/* The state of a page in its address, behind the #: what is searched, filtered, sorted, chosen. Opened from a folder, a
   page may change no other part of it. An address such as #lot-7 is a place on the page and no state. */
(function () {
  "use strict";
  var watching = [];

  function kept() {
    return new URLSearchParams(location.hash.indexOf("=") > 0 ? location.hash.slice(1) : "");
  }

  window.addressState = {
    get: function (name) {
      return kept().get(name) || "";
    },
    set: function (name, text) {
      var state = kept();
      state.delete(name);
      if (text) {
        state.set(name, text);
      }
      history.replaceState(history.state, "", state.toString() ? "#" + state : location.href.split("#")[0]);
    },
    watch: function (told) {
      watching.push(told);
    },
  };

  window.addEventListener("hashchange", function () {
    if (location.hash.length < 2 || location.hash.indexOf("=") > 0) {
      watching.forEach(function (told) {
        told();
      });
    }
  });
})();
