/* Filtering of long tables: a field above them, every word must occur in the row; the text is kept in the address. */
(function () {
  "use strict";

  function words(text) {
    return text.toLowerCase().split(/\s+/).filter(Boolean);
  }

  function prepare(table) {
    var rows = Array.prototype.slice.call(table.tBodies[0].rows);
    var texts = rows.map(function (row) {
      return row.textContent.toLowerCase();
    });
    var field = document.createElement("div");
    var label = document.createElement("label");
    var input = document.createElement("input");
    var count = document.createElement("output");
    field.className = "find";
    field.setAttribute("role", "search");
    field.setAttribute("aria-label", table.caption.textContent);
    input.type = "search";
    input.id = "find-" + table.id;
    input.autocomplete = "off";
    label.htmlFor = input.id;
    label.textContent = say("Show only rows with");
    count.htmlFor = input.id;
    count.setAttribute("aria-live", "polite");
    field.append(label, input, count);
    table.parentNode.before(field);

    function apply() {
      var wanted = words(input.value);
      var left = 0;
      rows.forEach(function (row, place) {
        var shown = wanted.every(function (word) {
          return texts[place].indexOf(word) >= 0;
        });
        row.hidden = !shown;
        left += shown ? 1 : 0;
      });
      count.textContent = say("{left} of {all} rows").replace("{left}", left).replace("{all}", rows.length);
    }

    function recall() {
      input.value = window.addressState.get(input.id);
      apply();
    }

    input.addEventListener("input", function () {
      apply();
      window.addressState.set(input.id, input.value.trim());
    });
    input.addEventListener("keydown", function (event) {
      if (event.key === "Escape" && input.value) {
        event.preventDefault();
        input.value = "";
        apply();
        window.addressState.set(input.id, "");
      }
    });
    recall();
    if (input.value) {
      field.scrollIntoView(); // who follows such a link looks for these rows
    }
    window.addressState.watch(recall);
  }

  document.querySelectorAll("table[data-filter]").forEach(prepare);
})();
