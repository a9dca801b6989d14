// Small things the Go program asks of the page, in a file because inline script is refused.
"use strict";

(() => {
  // Hands a file over: a link to a blob, clicked for the person and released when the browser has had time to read it.
  window.torchsideDownload = (name, bytes) => {
    const address = URL.createObjectURL(new Blob([bytes], { type: "application/zip" }));
    const link = document.createElement("a");
    link.href = address;
    link.download = name;
    link.hidden = true;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60 * 1000);
  };

  // Brings an element into view once the page has been drawn, and gives it the focus; without a name, the top of the page. Only
  // the newest such wish counts, and none once a finger or a key has gone on: a page must not move under a glove.
  let wish = 0;
  window.torchsideShow = (act) => {
    const frames = 30; // the page may be drawn a few frames later
    const mine = ++wish;
    const root = document.documentElement;
    const done = () => delete root.dataset.moving;
    root.dataset.moving = "";
    const look = (left) => {
      if (mine !== wish) {
        return;
      }
      const found = act && document.querySelector(`[data-act="${CSS.escape(act)}"]`);
      if (found) {
        for (let fold = found.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
        found.focus({ preventScroll: true });
        found.scrollIntoView({ block: "center" });
        done();
      } else if (act && left > 0) {
        requestAnimationFrame(() => look(left - 1));
      } else {
        window.scrollTo({ top: 0 });
        heading(frames);
        done();
      }
    };
    requestAnimationFrame(() => requestAnimationFrame(() => look(frames)));
  };
  for (const event of ["pointerdown", "keydown"]) {
    window.addEventListener(event, () => {
      wish++;
      delete document.documentElement.dataset.moving;
    }, true);
  }

  // A page beside the program is opened by the browser itself: the program, which takes over all other links, never hears of it.
  document.addEventListener("click", (event) => {
    if (event.target.closest?.("a[data-static]")) event.stopPropagation();
  });

  // Prints the page once its photos are there; after a while without those that do not come.
  window.torchsidePrint = () => {
    const patience = Date.now() + 5000;
    const waiting = () => document.querySelector("img[data-photo]:not([data-photo-state])") ||
      [...document.querySelectorAll("img[data-photo-state=shown]")].some((image) => !image.complete);
    const print = () => (waiting() && Date.now() < patience ? requestAnimationFrame(print) : window.print());
    window.torchsidePhotos?.showAll();
    print();
  };

  // The control that had the focus is gone: the heading takes it, again while the page is drawn anew.
  function heading(left) {
    if (document.activeElement === document.body) {
      document.getElementById("question")?.focus({ preventScroll: true });
    }
    if (left > 0) {
      requestAnimationFrame(() => heading(left - 1));
    }
  }

  // Asks for the worker once more (asking twice is harmless) to hear why it was refused, as with a certificate that is not
  // trusted. A server that does not answer right now is no refusal.
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register(new URL("../app-worker.js", document.currentScript.src)).catch((error) => {
      if (error.name === "SecurityError") {
        window.torchsideWorkerRefused = error.message;
        window.dispatchEvent(new CustomEvent("torchside-worker-refused"));
      }
    });
  }
})();
