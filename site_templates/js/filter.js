/* Filtering of long tables: a field above them, every word must occur in the row; the text is kept in the address. An id that
   stands in the table is found as it is: oil-1 is not oil-10, but where there is no oil-1 it is the beginning of an id. */
(function () {
  "use strict";

  function words(text) {
    return text.toLowerCase().split(/\s+/).filter(Boolean);
  }

  function cells(row) {
    return Array.from(row.cells, function (cell) {
      return cell.textContent.toLowerCase();
    }).join(" \n ");
  }

  function prepare(table) {
    var rows = Array.from(table.tBodies[0].rows);
    var texts = rows.map(cells);
    var ids = texts.map(function (text) {
      return new Set(text.match(/[a-z0-9]+(-[a-z0-9]+)+/g));
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
      var wanted = words(input.value).map(function (word) {
        var whole = ids.some(function (each) {
          return each.has(word);
        });
        return function (place) {
          return whole ? ids[place].has(word) : texts[place].indexOf(word) >= 0;
        };
      });
      var left = 0;
      rows.forEach(function (row, place) {
        var shown = wanted.every(function (found) {
          return found(place);
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
