/* Sorting of tables: each head gets a button; unknown cells stay last in both directions. */
(function () {
  "use strict";

  function key(row, column) {
    var cell = row.cells[column];
    return cell.hasAttribute("data-sort") ? cell.getAttribute("data-sort") : cell.textContent;
  }

  function compare(first, second, numeric) {
    if (numeric && !isNaN(first) && !isNaN(second)) {
      return Number(first) - Number(second);
    }
    return first < second ? -1 : first > second ? 1 : 0;
  }

  function sort(table, column, down) {
    var body = table.tBodies[0];
    var numeric = table.tHead.rows[0].cells[column].classList.contains("n");
    var rows = Array.prototype.slice.call(body.rows).map(function (row, place) {
      return { row: row, key: key(row, column), place: place };
    });
    rows.sort(function (a, b) {
      if (!a.key !== !b.key) {
        return a.key ? -1 : 1;
      }
      var order = compare(a.key, b.key, numeric);
      return (down ? -order : order) || a.place - b.place;
    });
    rows.forEach(function (item) {
      body.appendChild(item.row);
    });
  }

  function clicked(table, column) {
    var heads = table.tHead.rows[0].cells;
    var down = heads[column].getAttribute("aria-sort") === "ascending";
    for (var place = 0; place < heads.length; place += 1) {
      heads[place].removeAttribute("aria-sort");
      heads[place].querySelector(".way").textContent = "";
    }
    heads[column].setAttribute("aria-sort", down ? "descending" : "ascending");
    heads[column].querySelector(".way").textContent = down ? "\u2193" : "\u2191";
    sort(table, column, down);
  }

  function prepare(table) {
    if (!table.tHead || table.tBodies[0].rows.length < 2) {
      return;
    }
    Array.prototype.forEach.call(table.tHead.rows[0].cells, function (head, column) {
      var button = document.createElement("button");
      var way = document.createElement("span");
      button.type = "button";
      button.className = "sort";
      way.className = "way";
      way.setAttribute("aria-hidden", "true");
      button.append(head.querySelector(".label"), way);
      head.prepend(button);
      button.addEventListener("click", function () {
        clicked(table, column);
      });
    });
  }

  document.querySelectorAll("table[id]").forEach(prepare);
})();
