// Loads the page again when the program was built anew.
'use strict';
(function () {
  let shown = null;
  new EventSource('watch').onmessage = ({ data }) => {
    if (shown !== null && data !== shown) location.reload();
    shown = data;
  };
})();
