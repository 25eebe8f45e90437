// A page of a preview loads itself anew when the logbook has changed. No part of a published site.
"use strict";
const shown = document.currentScript.dataset.version;
new EventSource("/changes").addEventListener("message", (event) => {
  if (event.data !== shown) location.reload();
});
