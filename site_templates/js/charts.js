/* Charts: draws each one again so that its marks can be pointed at. The picture stays until that has worked. */
(function () {
  "use strict";
  var AXIS = 72; // what an axis of numbers takes beside one of several panels, px
  var NAMES = 150; // what an axis of names takes, px
  var NARROWEST = 260;

  // The longest name of a legend, in letters: what its entries are is written in their scales.
  function longest(part) {
    var names = part && part.scale && Array.isArray(part.scale.domain) ? part.scale.domain : [];
    var inner = part && typeof part === "object" ? Object.values(part).map(longest) : [];
    return Math.max.apply(null, inner.concat(names.map(function (name) { return String(name).length; }), 0));
  }

  function fitted(spec, room) {
    var width = Math.max(NARROWEST, Math.min(room, 880));
    if (width < 480) {
      spec.config.legend.columns = spec.autosize && longest(spec) < 16 ? 2 : 1;
      spec.config.axis.labelOverlap = "greedy";
      spec.config.axisY.titleFontSize = spec.config.legend.labelFontSize = 11;
    }
    if (spec.vconcat) {
      spec.vconcat.forEach(function (panel) {
        panel.width = width - AXIS;
      });
    } else if (spec.spec) {
      spec.spec.width = width - AXIS;
    } else {
      spec.width = spec.autosize ? width : Math.max(width - NAMES, NARROWEST - AXIS);
    }
    return spec;
  }

  function draw(figure) {
    var view = figure.querySelector(".view");
    var spec = JSON.parse(JSON.stringify(window.chartSpecs[figure.dataset.chart]));
    var values = JSON.parse(figure.querySelector("script[type='application/json']").textContent);
    var stage = document.createElement("div");
    spec.data = { name: "table", values: values };
    stage.className = "stage";
    stage.hidden = true;
    view.append(stage);
    return window.vegaEmbed(stage, fitted(spec, view.clientWidth), {
      ast: true,
      renderer: "svg",
      actions: false,
      mode: "vega-lite",
      defaultStyle: false,
      tooltip: { disableDefaultStyle: true },
    }).then(
      function () {
        view.querySelector("svg[role='img']").remove();
        stage.hidden = false;
        figure.dataset.state = "drawn";
      },
      function (error) {
        stage.remove();
        figure.dataset.state = "picture";
        console.warn("the chart " + figure.dataset.chart + " stays as it was: " + error);
      }
    );
  }

  if (!window.vegaEmbed || !window.chartSpecs) {
    return;
  }
  // One after the other: the page stays quick to scroll, and nothing moves but what is being replaced.
  Array.prototype.slice.call(document.querySelectorAll("figure[data-chart]")).reduce(function (before, figure) {
    return before.then(function () {
      return draw(figure);
    });
  }, Promise.resolve());
})();
