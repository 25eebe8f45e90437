/* Charts: draws each one again so that its marks can be pointed at, at the width there is, for the period that is asked for.
   The picture stays until that has worked. The period is one for all charts of the page, and its address keeps it. */
(function () {
  "use strict";
  var AXIS = 72; // what an axis of numbers takes beside one of several panels, px
  var NAMES = 150; // what an axis of names takes, px
  var LEAST = 80; // of a plot without its axis, px
  var MOST = 880;
  var figures = Array.from(document.querySelectorAll("figure[data-chart]"));
  var part = document.getElementById("period");
  var drawn = new Map(); // by figure: what was drawn last
  var queue = Promise.resolve();
  var waiting = 0;

  // The longest name of a legend, in letters: what its entries are is written in their scales.
  function longest(part) {
    var names = part && part.scale && Array.isArray(part.scale.domain) ? part.scale.domain : [];
    var inner = part && typeof part === "object" ? Object.values(part).map(longest) : [];
    return Math.max.apply(null, inner.concat(names.map(function (name) { return String(name).length; }), 0));
  }

  function fitted(spec, room) {
    var width = Math.min(room, MOST);
    if (width < 480) {
      spec.config.legend.columns = spec.autosize && longest(spec) < 16 ? 2 : 1;
      spec.config.axis.labelOverlap = "greedy";
      spec.config.axisY.titleFontSize = spec.config.legend.labelFontSize = 11;
      spec.config.axis.labelFontSize = 11;
      spec.config.padding.left = spec.config.padding.right = 2;
    }
    if (spec.vconcat) {
      spec.vconcat.forEach(function (panel) {
        panel.width = Math.max(width - AXIS, LEAST);
      });
    } else if (spec.spec) {
      spec.spec.width = Math.max(width - AXIS, LEAST);
    } else {
      spec.width = Math.max(spec.autosize ? width : width - NAMES, LEAST);
    }
    return spec;
  }

  // The period, as days of the address; an empty one has no end there.
  function period() {
    return {
      from: part ? window.addressState.get("from") : "",
      to: part ? window.addressState.get("to") : "",
    };
  }

  function within(rows, asked) {
    var from = asked.from || "0";
    var to = asked.to || "9999-99-99";
    return rows.reduce(function (kept, row) {
      var first = row.date || row.start;
      var last = row.date || row.end || first;
      if (typeof first !== "string" || (first <= to && last >= from)) {
        var cut = !row.date && typeof first === "string";
        kept.push(cut ? Object.assign({}, row, { start: first < from ? from : first, end: last > to ? to : last }) : row);
      }
      return kept;
    }, []);
  }

  // Lets the mouse choose the period: in the first layer that has days along the bottom.
  function chooser(spec) {
    var inner = spec.vconcat || spec.layer || (spec.spec ? [spec.spec] : []);
    var x = spec.encoding && spec.encoding.x;
    if (spec.mark && x && x.field === "date" && x.type === "temporal") {
      spec.params = (spec.params || []).concat({
        name: "period",
        select: {
          type: "interval",
          encodings: ["x"],
          on: "[pointerdown[event.pointerType === 'mouse'], window:pointerup] > window:pointermove!",
          translate: false,
          zoom: false,
          mark: { fill: "var(--ink)", fillOpacity: 0.1, stroke: null },
        },
      });
      return true;
    }
    return inner.some(chooser);
  }

  // What the mouse draws is no part of the picture: nothing of it is read aloud.
  function unspoken(marks) {
    (marks || []).forEach(function (mark) {
      if (/^period_brush/.test(mark.name)) {
        mark.aria = false;
      }
      unspoken(mark.marks);
    });
  }

  function listen(made) {
    made.view.addEventListener("pointerdown", function () {
      window.addEventListener("pointerup", function () {
        window.setTimeout(function () {
          var ends = (made.view.signal("period") || {}).date;
          if (ends && ends[1] > ends[0]) {
            choose(day(ends[0]), day(ends[1]));
          }
        });
      }, { once: true });
    });
  }

  function day(time) {
    return new Date(time).toISOString().slice(0, 10);
  }

  function embed(figure, values, stage, room) {
    var spec = JSON.parse(JSON.stringify(window.chartSpecs[figure.dataset.chart]));
    var chosen = Boolean(part) && chooser(spec);
    spec.data = { name: "table", values: values };
    return window.vegaEmbed(stage, fitted(spec, room), {
      ast: true,
      renderer: "svg",
      actions: false,
      mode: "vega-lite",
      logLevel: 1, // errors: a layer that has no rows in a period is none
      defaultStyle: false,
      tooltip: { disableDefaultStyle: true },
      patch: function (made) {
        unspoken(made.marks);
        return made;
      },
    }).then(function (made) {
      if (chosen) {
        listen(made);
      }
      return made;
    });
  }

  // What names and words beside the plot take is known only when they are drawn: once more, narrower by what stands out.
  function embedFitting(figure, values, stage, room) {
    return embed(figure, values, stage, room).then(function (made) {
      var over = Math.ceil(Number(stage.querySelector("svg").getAttribute("width")) - room);
      if (over <= 0) {
        return made;
      }
      made.finalize();
      return embed(figure, values, stage, Math.min(room, MOST) - over);
    });
  }

  function replaced(figure, stage, made) {
    var view = figure.querySelector(".view");
    var before = drawn.get(figure);
    if (before && before.made) {
      before.made.finalize();
    }
    Array.from(view.children).forEach(function (each) {
      if (each !== stage) {
        each.remove();
      }
    });
    stage.hidden = false;
    figure.dataset.state = "drawn";
    drawn.set(figure, { made: made, room: view.clientWidth, asked: JSON.stringify(period()) });
  }

  // The rows of a chart: its page holds the names of their columns once.
  function rows(figure) {
    var told = JSON.parse(figure.querySelector("script[type='application/json']").textContent);
    return told.rows.map(function (row) {
      var named = {};
      told.columns.forEach(function (name, place) {
        named[name] = row[place];
      });
      return named;
    });
  }

  function draw(figure) {
    var view = figure.querySelector(".view");
    var before = drawn.get(figure);
    if (before && before.room === view.clientWidth && before.asked === JSON.stringify(period())) {
      return Promise.resolve();
    }
    var values = within(rows(figure), period());
    var stage = document.createElement("div");
    stage.className = "stage";
    if (!values.length) {
      stage.textContent = part.dataset.nothing;
      view.append(stage);
      replaced(figure, stage, null);
      return Promise.resolve();
    }
    stage.hidden = true;
    view.append(stage);
    return embedFitting(figure, values, stage, view.clientWidth).then(
      function (made) {
        replaced(figure, stage, made);
      },
      function (error) {
        stage.remove();
        figure.dataset.state = "picture";
        console.warn("the chart " + figure.dataset.chart + " stays as it was: " + error);
      }
    );
  }

  // One after the other: the page stays quick to scroll, and nothing moves but what is being replaced.
  function drawAll() {
    figures.forEach(function (figure) {
      queue = queue.then(function () {
        return draw(figure);
      });
    });
  }

  function choose(from, to) {
    window.addressState.set("from", from);
    window.addressState.set("to", to);
    show();
  }

  function show() {
    var asked = period();
    if (part) {
      part.querySelector("#period-from").value = asked.from;
      part.querySelector("#period-to").value = asked.to;
      part.querySelector("button").disabled = !asked.from && !asked.to;
      part.classList.toggle("whole", !asked.from && !asked.to);
    }
    drawAll();
  }

  if (!window.vegaEmbed || !window.chartSpecs) {
    return;
  }
  if (part) {
    ["from", "to"].forEach(function (name) {
      part.querySelector("#period-" + name).addEventListener("change", function (event) {
        window.addressState.set(name, event.target.value);
        show();
      });
    });
    part.querySelector("button").addEventListener("click", function () {
      choose("", "");
      part.querySelector("#period-from").focus();
    });
    window.addressState.watch(show);
  }
  window.addEventListener("resize", function () {
    window.clearTimeout(waiting);
    waiting = window.setTimeout(drawAll, 150);
  });
  show();
})();
