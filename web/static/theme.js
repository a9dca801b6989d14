// The owner's choice of light or dark, which the program keeps on this phone: for what stands on the screen before the program, and for
// the pages beside it. Without a choice, or without script, the style sheet follows the phone.
"use strict";

(() => {
  const apply = () => {
    try {
      const theme = JSON.parse(localStorage.getItem("torchside/theme"));
      if (["system", "dark", "light"].includes(theme)) document.documentElement.dataset.theme = theme;
    } catch {
      // Nothing is kept here: as without a choice.
    }
  };
  apply();
  window.addEventListener("pageshow", apply); // come back to, the page may be older than the choice
})();
