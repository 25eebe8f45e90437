/* A mark beside a term opens its entry of the glossary where it stands. Without this script, or in a browser that has no
   popovers, the mark leads to the glossary. The entries are loaded with the first that is asked for. */
(function () {
  "use strict";
  var box = document.createElement("div");
  var link = document.createElement("a");
  var given = document.createElement("span");
  var text = document.createElement("p");

  function show(mark) {
    var word = window.glossaryTerms[mark.hash.slice(1)];
    link.textContent = word[0];
    link.href = mark.href;
    given.textContent = word[1];
    text.textContent = word[2];
    box.hidePopover();
    mark.focus(); // where the focus goes back to
    box.showPopover({ source: mark });
    box.focus();
  }

  if (!box.showPopover) {
    return;
  }
  box.popover = "auto";
  box.className = "word";
  box.tabIndex = -1;
  given.className = "unit";
  box.append(document.createElement("p"), text);
  box.firstChild.append(link, " ", given);
  document.body.append(box);
  document.addEventListener("click", function (event) {
    var mark = event.target.closest(".what");
    if (mark && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
      event.preventDefault();
      (window.glossaryTerms ? Promise.resolve() : window.seek.load("assets/terms.js")).then(
        function () {
          show(mark);
        },
        function () {
          location.href = mark.href;
        }
      );
    }
  });
})();
