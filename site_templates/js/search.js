/* The search of the whole logbook, loaded by seek.js when it is first used, with what it needs. Below the field stand the
   first hits; on the page of finding all of them, kept in its address. */
(function () {
  "use strict";
  var FIRST = 8;
  var MOST = 200;
  var AROUND = 60; // signs of a text that are shown before the word that was found
  var PIECE = 170;
  var SMALL = say("a an and are be been did do does for has have how i in is it many me mean meaning means much must my of on or our should the there these this to was were what when where which why with you your").split(" ");
  var WEIGHT = { Word: 1.5, Method: 0.6, Problem: 0.4 }; // what a workshop has before what the program tells of itself
  var box = document.querySelector(".seek");
  var field = box.querySelector("input");
  var short = document.createElement("ol");
  var told = box.querySelector("[role='status']");
  var long = document.getElementById("found");
  var list = long || short;
  var loading = null;

  function plain(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "");
  }

  function term(word) {
    var text = plain(word);
    return SMALL.indexOf(text) < 0 ? text : null;
  }

  // A day is found by its digits and by its month's name, in the language of the logbook.
  function dated(day) {
    return day ? day + " " + window.logbookEntries.months[Number(day.slice(5, 7)) - 1] : "";
  }

  function prepared() {
    var index = new window.MiniSearch({
      fields: ["title", "text", "asked"],
      processTerm: term,
      tokenize: function (text) {
        return text.split(/[\s\p{Z}\p{P}\p{S}]+/u).filter(Boolean);
      },
      searchOptions: { boost: { title: 4, asked: 6 }, combineWith: "AND", prefix: true },
    });
    index.addAll(
      window.logbookEntries.entries.map(function (entry, place) {
        return { id: place, title: entry.title, text: entry.text + " " + entry.also + " " + dated(entry.date), asked: entry.asked };
      })
    );
    return index;
  }

  function ready() {
    loading =
      loading ||
      Promise.all(["assets/minisearch/minisearch.js", "assets/entries.js"].map(window.seek.load)).then(prepared);
    return loading;
  }

  // A word with a hyphen or a point in it, such as an id, has to stand there as it is; a misspelt one is looked for then, and
  // last of all what has any of the words.
  function matching(index, text) {
    var whole = plain(text).split(/\s+/).filter(function (word) {
      return /\w[-.]\w/.test(word);
    });
    var hits = index.search(text).filter(function (hit) {
      var entry = window.logbookEntries.entries[hit.id];
      var all = plain([entry.title, entry.text, entry.also, entry.asked, entry.date].join(" "));
      return whole.every(function (word) {
        return all.indexOf(word) >= 0;
      });
    });
    hits = hits.length ? hits : index.search(text, { fuzzy: fuzziness });
    return hits.length ? hits : index.search(text, { combineWith: "OR" });
  }

  function fuzziness(word) {
    return /\d/.test(word) || word.length < 4 ? false : 0.25;
  }

  // What is called just as it is asked for comes first, then by how well it fits, and of equals the newest.
  function found(index, text) {
    var asked = plain(text.trim());
    return matching(index, text)
      .map(function (hit) {
        var entry = window.logbookEntries.entries[hit.id];
        var name = plain(entry.title);
        return {
          entry: entry,
          terms: hit.terms,
          named: name === asked || name.endsWith(" " + asked) ? 1 : 0,
          score: Math.round(hit.score * (WEIGHT[entry.kind] || 1) * 10),
        };
      })
      .sort(function (a, b) {
        return b.named - a.named || b.score - a.score || (a.entry.date < b.entry.date ? 1 : -1);
      });
  }

  function piece(entry, terms) {
    var text = entry.text.replace(/\s+/g, " ");
    var low = plain(text);
    var places = terms
      .map(function (term) {
        return low.indexOf(term);
      })
      .filter(function (place) {
        return place >= 0;
      });
    var first = places.length ? Math.min.apply(null, places) : 0;
    var start = first > AROUND ? text.indexOf(" ", first - AROUND) + 1 : 0;
    var end = start + PIECE;
    return (start ? "… " : "") + text.slice(start, end) + (end < text.length ? " …" : "");
  }

  function part(name, text) {
    var span = document.createElement("span");
    span.className = name;
    span.textContent = text;
    return span;
  }

  function line(hit) {
    var item = document.createElement("li");
    var link = document.createElement("a");
    link.href = box.dataset.root + hit.entry.href;
    link.append(part("name", hit.entry.title), " ", part("kind", window.logbookEntries.kinds[hit.entry.kind][0]));
    if (hit.entry.date) {
      link.append(" ", part("day", hit.entry.date));
    }
    if (hit.entry.text) {
      link.append(part("piece", piece(hit.entry, hit.terms)));
    }
    item.append(link);
    return item;
  }

  function further(count) {
    var item = document.createElement("li");
    var link = document.createElement("a");
    link.href = window.seek.all();
    link.append(part("name", say("all {count} that are found").replace("{count}", count)));
    item.append(link);
    return item;
  }

  function kinds(hits) {
    var group = document.querySelector(".kinds");
    var chosen = window.addressState.get("kind");
    var counts = {};
    hits.forEach(function (hit) {
      counts[hit.entry.kind] = (counts[hit.entry.kind] || 0) + 1;
    });
    group.replaceChildren();
    [""].concat(Object.keys(window.logbookEntries.kinds)).forEach(function (kind) {
      if (kind && !counts[kind] && kind !== chosen) {
        return;
      }
      var button = document.createElement("button");
      button.type = "button";
      button.setAttribute("aria-pressed", String(kind === chosen));
      button.textContent = kind ? window.logbookEntries.kinds[kind][1] + " " + (counts[kind] || 0) : say("All {count}").replace("{count}", hits.length);
      button.addEventListener("click", function () {
        window.addressState.set("kind", kind);
        look();
        document.querySelector(".kinds [aria-pressed='true']").focus();
      });
      group.append(button);
    });
    return hits.filter(function (hit) {
      return !chosen || hit.entry.kind === chosen;
    });
  }

  function show(hits) {
    var shown = long && hits.length ? kinds(hits) : hits;
    var most = long ? MOST : FIRST;
    list.replaceChildren.apply(list, shown.slice(0, most).map(line));
    if (!long && shown.length > most) {
      list.append(further(shown.length));
    }
    told.textContent = hits.length ? say("{count} found").replace("{count}", hits.length) : say("nothing found");
    if (long && shown.length > most) {
      told.textContent += say(", the first {most} are shown").replace("{most}", most);
    }
    if (long) {
      document.getElementById("found-none").hidden = true;
    } else {
      short.hidden = hits.length === 0;
    }
  }

  function clear() {
    list.replaceChildren();
    told.textContent = "";
    if (long) {
      document.querySelector(".kinds").replaceChildren();
      document.getElementById("found-none").hidden = false;
    } else {
      short.hidden = true;
    }
  }

  function look() {
    var text = field.value.trim();
    if (long) {
      window.addressState.set("q", text);
    }
    if (!text) {
      clear();
      return;
    }
    ready().then(
      function (index) {
        if (field.value.trim() === text) {
          show(found(index, text));
        }
      },
      function () {
        loading = null;
        told.textContent = say("the list of entries cannot be loaded");
      }
    );
  }

  function step(event) {
    var links = Array.from(list.querySelectorAll("a"));
    var place = links.indexOf(document.activeElement);
    var next = place + (event.key === "ArrowDown" ? 1 : -1);
    if ((place < 0 && document.activeElement !== field) || list.hidden || !links.length) {
      return;
    }
    if (next < 0 && place < 0) {
      return;
    }
    event.preventDefault();
    (next < 0 ? field : links[Math.min(next, links.length - 1)]).focus();
  }

  function closed(event) {
    if (event.key !== "Escape") {
      return;
    }
    if (!long && !short.hidden) {
      event.preventDefault();
      field.focus();
      short.hidden = true; // behind the focus, which opens it
    } else if (document.activeElement === field) {
      field.value = "";
      look();
    }
  }

  function recall() {
    if (long) {
      field.value = window.addressState.get("q");
      look();
    }
  }

  if (!long) {
    var sheet = document.createElement("link");
    sheet.rel = "stylesheet";
    sheet.href = box.dataset.root + "assets/hits.css";
    document.head.append(sheet);
    short.className = "hits";
    short.hidden = true;
    box.append(short);
  }
  field.addEventListener("focus", function () {
    if (!long && short.children.length) {
      short.hidden = false;
    }
  });
  field.addEventListener("input", look);
  field.addEventListener("keydown", function (event) {
    if (long && event.key === "Enter" && field.value.trim() && list.querySelector("a")) {
      event.preventDefault();
      list.querySelector("a").focus();
    }
  });
  document.addEventListener("keydown", function (event) {
    if (!box.contains(event.target) && !(long && long.contains(event.target))) {
      return;
    }
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      step(event);
    } else {
      closed(event);
    }
  });
  document.addEventListener("focusin", function (event) {
    if (!box.contains(event.target)) {
      short.hidden = true;
    }
  });
  document.addEventListener("click", function (event) {
    if (!box.contains(event.target)) {
      short.hidden = true;
    }
  });

  if (long) {
    var tick = document.getElementById("slash");
    tick.checked = window.seek.slash();
    tick.addEventListener("change", function () {
      try {
        localStorage.setItem("slash", tick.checked ? "on" : "off");
      } catch (error) {
        tick.checked = true;
      }
    });
    recall();
    window.addressState.watch(recall);
  } else if (field.value) {
    look(); // what was written while this was loaded
  } else {
    ready().catch(function () {
      loading = null;
    });
  }
})();
