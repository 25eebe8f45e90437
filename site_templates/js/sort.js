/* Sorting of tables: each head gets a button; unknown cells stay last in both directions; the order is kept in the
   address by the name of its column, with a minus before it where it falls. */
(function () {
  "use strict";

  function key(row, column) {
    var cell = row.cells[column];
    var text = cell.textContent;
    return cell.dataset.sort !== undefined ? cell.dataset.sort : text === "\u2013" ? "" : text;
  }

  function compare(first, second, numeric) {
    if (numeric && !isNaN(first) && !isNaN(second)) {
      return Number(first) - Number(second);
    }
    return first < second ? -1 : first > second ? 1 : 0;
  }

  function sort(table, column, down) {
    var body = table.tBodies[0];
    var numeric = column >= 0 && table.tHead.rows[0].cells[column].classList.contains("n");
    var rows = Array.from(body.rows).map(function (row) {
      return { row: row, key: column >= 0 ? key(row, column) : "", place: row.place };
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

  function show(table, column, down) {
    Array.from(table.tHead.rows[0].cells).forEach(function (head, place) {
      var chosen = place === column;
      if (chosen) {
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
      } else {
        head.removeAttribute("aria-sort");
      }
      head.querySelector(".way").textContent = chosen ? (down ? "\u2193" : "\u2191") : "";
    });
    sort(table, column, down);
  }

  function named(head) {
    return head.querySelector(".sort").firstChild.textContent.trim();
  }

  function remembered(table) {
    var text = window.addressState.get("sort-" + table.id);
    var down = text.charAt(0) === "-";
    var column = Array.from(table.tHead.rows[0].cells).map(named).indexOf(text.slice(down ? 1 : 0));
    if (column >= 0 || table.tHead.querySelector("[aria-sort]")) {
      show(table, column, down); // without a column: as the page came
    }
  }

  function prepare(table) {
    if (!table.tHead || table.tBodies[0].rows.length < 2) {
      return;
    }
    Array.from(table.tBodies[0].rows).forEach(function (row, place) {
      row.place = place;
    });
    Array.from(table.tHead.rows[0].cells).forEach(function (head, column) {
      var button = document.createElement("button");
      var way = document.createElement("span");
      button.type = "button";
      button.className = "sort";
      way.className = "way";
      way.setAttribute("aria-hidden", "true");
      button.append(head.firstChild, way);
      head.prepend(button);
      button.addEventListener("click", function () {
        var down = head.getAttribute("aria-sort") === "ascending";
        show(table, column, down);
        window.addressState.set("sort-" + table.id, (down ? "-" : "") + named(head));
      });
    });
    remembered(table);
    window.addressState.watch(function () {
      remembered(table);
    });
  }

  document.querySelectorAll("table[id]").forEach(prepare);
})();
