/* The field in the head of each page: the key that goes to it, and the search, which is loaded when it is first used. All
   is loaded as scripts, for a page that is opened from a folder may fetch nothing. */
(function () {
  "use strict";
  var box = document.querySelector(".seek");
  var field = box.querySelector("input");
  var long = document.getElementById("found");
  var asked = false;

  function load(name) {
    return new Promise(function (done, failed) {
      var script = document.createElement("script");
      script.src = box.dataset.root + name;
      script.addEventListener("load", done);
      script.addEventListener("error", failed);
      document.head.append(script);
    });
  }

  function begin() {
    if (!asked) {
      asked = true;
      load("assets/search.js").catch(function () {
        asked = false;
      });
    }
  }

  function all() {
    return box.dataset.root + "find.html#q=" + encodeURIComponent(field.value.trim());
  }

  function slash() {
    try {
      return localStorage.getItem("slash") !== "off";
    } catch (error) {
      return true; // a browser that keeps nothing
    }
  }

  window.seek = { load: load, all: all, slash: slash };
  field.addEventListener("focus", begin);
  field.addEventListener("keydown", function (event) {
    if (!long && event.key === "Enter" && field.value.trim()) {
      event.preventDefault();
      location.href = all();
    }
  });
  document.addEventListener("keydown", function (event) {
    if (
      event.key === "/" &&
      !event.ctrlKey &&
      !event.metaKey &&
      !event.altKey &&
      !event.target.closest("input, textarea, select, [contenteditable]") &&
      !box.contains(event.target) &&
      !(long && long.contains(event.target)) &&
      slash()
    ) {
      event.preventDefault();
      field.focus();
      field.select();
    }
  });

  if (long || document.activeElement === field) {
    begin();
  }
})();
