/* An offer on other terms: looks up the step, adds up its three numbers; all else was reckoned when the site was made. */
(function () {
  "use strict";
  var part = document.getElementById("mover");
  if (!part) {
    return;
  }
  var told = JSON.parse(document.getElementById("mover-data").textContent);
  var ranges = told.ranges;
  var digits = Number(part.dataset.digits);
  var sizes = part.dataset.sizes.split(" "); // of the group on the right, and of each before it
  var between = new RegExp("\\B(?=(\\d{" + sizes[1] + "})*\\d{" + sizes[0] + "}$)", "g");
  var inputs = {};
  ["acid", "water", "asked", "diesel"].forEach(function (name) {
    inputs[name] = document.getElementById("move-" + name);
  });

  // A price as it was typed, with a point or a comma; three digits behind the other sign may be thousands, so they are no price.
  function typed(name) {
    var found = /^(\d+)(?:([.,])(\d+))?$/.exec(inputs[name].value.trim());
    if (!found || (found[2] && found[2] !== part.dataset.decimal && found[3].length === 3)) {
      return NaN;
    }
    return Number(found[1] + "." + (found[3] || "0"));
  }

  // At zero, and so much for each unit of the price asked and of the price of diesel.
  function amount(plane) {
    if (!plane) {
      return NaN;
    }
    return ["asked", "diesel"].reduce(function (sum, name, place) {
      return plane[place + 1] ? sum + plane[place + 1] * typed(name) : sum;
    }, plane[0]);
  }

  function written(value, unit, decimals) {
    if (isNaN(value)) {
      return ranges.none;
    }
    var text = Math.abs(value).toFixed(decimals);
    var sign = value < 0 && Number(text) ? "\u2212" : "";
    var parts = text.split(".");
    parts[0] = parts[0].replace(between, part.dataset.group);
    return sign + parts.join(part.dataset.decimal) + (unit ? "\u202f" + unit : "");
  }

  function range(low, high, unit) {
    if (isNaN(low)) {
      return ranges.none;
    }
    var least = isNaN(high);
    return (least ? ranges.least : ranges.both).replace("{low}", written(low, least ? unit : "", digits)).replace("{high}", written(high, unit, digits));
  }

  function show() {
    var step = told.data.steps[told.data.at[Number(inputs.acid.value) * told.data.waters + Number(inputs.water.value)]];
    ["acid", "water"].forEach(function (name) {
      var text = told.slides[name][Number(inputs[name].value)];
      inputs[name].setAttribute("aria-valuetext", text);
      document.getElementById("at-" + name).textContent = text;
    });
    ["asked", "diesel"].forEach(function (name) {
      inputs[name].setAttribute("aria-invalid", String(isNaN(typed(name))));
    });
    part.querySelectorAll("[data-plane]").forEach(function (place) {
      place.textContent = written(amount(step.planes[place.dataset.plane]), place.dataset.unit, Number(place.dataset.digits || digits));
    });
    part.querySelectorAll("[data-range]").forEach(function (place) {
      var ends = place.dataset.range.split(" ").map(function (name) {
        return amount(step.planes[name]);
      });
      place.textContent = range(ends[0], ends[1], place.dataset.unit);
    });
    part.querySelectorAll("[data-text]").forEach(function (place) {
      place.textContent = step.texts[place.dataset.text];
    });
  }

  Object.keys(inputs).forEach(function (name) {
    inputs[name].addEventListener("input", show);
  });
  document.getElementById("move-back").addEventListener("click", function () {
    Object.keys(inputs).forEach(function (name) {
      inputs[name].value = inputs[name].defaultValue;
    });
    show();
  });
  show();
})();
