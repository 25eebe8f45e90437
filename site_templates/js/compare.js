/* Comparison of batches: those ticked in the table, kept in the address; side by side from the data of their own pages,
   loaded as scripts, for a page that is opened from a folder may fetch nothing. Nothing is computed here. */
(function () {
  "use strict";
  var NAME = "compare";
  var MOST = 4;
  var ticks = Array.from(document.querySelectorAll(".pick input"));
  var bar = document.querySelector(".chosen");
  var place = document.getElementById("beside");
  var told = document.getElementById("beside-told");
  var differing = document.getElementById("differing");
  var known = ticks.map(function (tick) {
    return tick.value;
  });

  function chosen() {
    return window.addressState
      .get(NAME)
      .split(",")
      .filter(function (id, at, ids) {
        return known.indexOf(id) >= 0 && ids.indexOf(id) === at;
      })
      .slice(0, MOST);
  }

  function choose(ids) {
    window.addressState.set(NAME, ids.join(","));
    show();
  }

  function load(id) {
    return new Promise(function (done, failed) {
      if (window.logbookBatches && window.logbookBatches[id]) {
        done();
        return;
      }
      var script = document.createElement("script");
      script.src = "batches/" + id + ".js"; // one of those the table holds
      script.addEventListener("load", done);
      script.addEventListener("error", failed);
      document.head.append(script);
    });
  }

  function cell(tag, text, scope) {
    var made = document.createElement(tag);
    made.textContent = text;
    if (scope) {
      made.scope = scope;
    }
    return made;
  }

  function head(ids) {
    var made = document.createElement("thead");
    var row = made.insertRow();
    row.append(cell("th", say("Figure"), "col"));
    ids.forEach(function (id) {
      var top = cell("th", "", "col");
      var link = document.createElement("a");
      var drop = document.createElement("button");
      link.href = "batches/" + id + ".html";
      link.textContent = id;
      drop.type = "button";
      drop.textContent = say("leave out");
      drop.setAttribute("aria-label", say("Leave out {name}").replace("{name}", id));
      drop.addEventListener("click", function () {
        choose(
          chosen().filter(function (other) {
            return other !== id;
          })
        );
      });
      top.append(link, document.createElement("br"), drop);
      row.append(top);
    });
    return made;
  }

  // Labels of a group in the order of the batch that has them first; what another lacks stands as a dash.
  function labels(batches, group) {
    var seen = [];
    batches.forEach(function (batch) {
      figures(batch, group).forEach(function (figure) {
        if (seen.indexOf(figure[0]) < 0) {
          seen.push(figure[0]);
        }
      });
    });
    return seen;
  }

  function groups(batches) {
    var seen = [];
    batches.forEach(function (batch) {
      batch.groups.forEach(function (group, at) {
        if (seen.indexOf(group[0]) < 0) {
          seen.splice(after(batch.groups, at, seen), 0, group[0]);
        }
      });
    });
    return seen;
  }

  function after(own, at, seen) {
    return at ? seen.indexOf(own[at - 1][0]) + 1 : 0;
  }

  function figures(batch, group) {
    var found = batch.groups.filter(function (one) {
      return one[0] === group;
    });
    return found.length ? found[0][1] : [];
  }

  function line(batches, group, label) {
    var row = document.createElement("tr");
    var texts = [];
    row.append(cell("th", label, "row"));
    batches.forEach(function (batch) {
      var figure = figures(batch, group).filter(function (one) {
        return one[0] === label;
      })[0];
      var made = cell("td", figure ? figure[1] : "–");
      if (figure && figure[2]) {
        var basis = cell("span", figure[2]);
        basis.className = "basis";
        made.append(basis);
      }
      texts.push(figure ? figure[1] : "–");
      row.append(made);
    });
    var same = texts.every(function (text) {
      return text === texts[0];
    });
    row.className = same ? "same" : "";
    row.hidden = same && differing.checked;
    return row;
  }

  function table(ids) {
    var batches = ids.map(function (id) {
      return window.logbookBatches[id];
    });
    var made = document.createElement("table");
    var caption = made.createCaption();
    caption.textContent = say("Batches {names}").replace("{names}", ids.join(", "));
    made.className = "of-" + ids.length;
    made.append(head(ids));
    groups(batches).forEach(function (group) {
      var body = document.createElement("tbody");
      var top = body.insertRow();
      var title = cell("th", group, "rowgroup");
      top.className = "group";
      title.colSpan = ids.length + 1;
      top.append(title);
      labels(batches, group).forEach(function (label) {
        body.append(line(batches, group, label));
      });
      body.hidden = !body.querySelector("tr:not(.group):not([hidden])");
      made.append(body);
    });
    return made;
  }

  function unknown() {
    var strange = window.addressState
      .get(NAME)
      .split(",")
      .filter(function (id) {
        return id && known.indexOf(id) < 0;
      });
    return strange.length ? say("Not a batch of this site: {names}.").replace("{names}", strange.join(", ")) + " " : "";
  }

  function beside(ids) {
    if (ids.length < 2) {
      place.replaceChildren();
      told.textContent =
        unknown() +
        (ids.length ? say("Chosen: {names}; tick one more below.").replace("{names}", ids[0]) : say("No batch is chosen yet."));
      return;
    }
    Promise.all(ids.map(load)).then(
      function () {
        place.replaceChildren(table(ids));
        told.textContent = unknown() + say("{count} batches beside each other; a dash is not written or not known.").replace("{count}", ids.length);
      },
      function () {
        told.textContent = say("The data of these batches cannot be loaded.");
      }
    );
  }

  function show() {
    var ids = chosen();
    ticks.forEach(function (tick) {
      tick.checked = ids.indexOf(tick.value) >= 0;
      tick.disabled = !tick.checked && ids.length >= MOST;
    });
    if (bar) {
      bar.hidden = ids.length === 0;
      bar.querySelector(".names").textContent =
        (ids.length >= MOST
          ? say("Chosen: {names}, which is as many as fit.")
          : ids.length < 2
            ? say("Chosen: {names}; tick one more.")
            : say("Chosen: {names}.")
        ).replace("{names}", ids.join(", "));
      bar.querySelector("a").hidden = ids.length < 2;
      bar.querySelector("a").href = "compare.html#" + NAME + "=" + ids.join(",");
    }
    if (place) {
      beside(ids);
    }
  }

  ticks.forEach(function (tick) {
    tick.addEventListener("change", function () {
      choose(
        chosen()
          .filter(function (id) {
            return id !== tick.value;
          })
          .concat(tick.checked ? [tick.value] : [])
      );
    });
  });
  if (differing) {
    differing.checked = window.addressState.get("only") === "differing";
    differing.addEventListener("change", function () {
      window.addressState.set("only", differing.checked ? "differing" : "");
      show();
    });
  }
  show();
  window.addressState.watch(show);
})();
