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

  // Brings an element into view once the page has been drawn, and gives it the focus; without a name, the top of the page.
  window.torchsideShow = (act) => {
    requestAnimationFrame(() => requestAnimationFrame(() => {
      const found = act && document.querySelector(`[data-act="${CSS.escape(act)}"]`);
      if (!found) {
        window.scrollTo({ top: 0 });
        return;
      }
      found.focus({ preventScroll: true });
      found.scrollIntoView({ block: "center" });
    }));
  };

  // Asks for the worker once more (asking twice is harmless) to hear why it was refused, as with a certificate that is not
  // trusted. A server that does not answer right now is no refusal.
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register("/app-worker.js").catch((error) => {
      if (error.name === "SecurityError") {
        window.torchsideWorkerRefused = error.message;
        window.dispatchEvent(new CustomEvent("torchside-worker-refused"));
      }
    });
  }
})();
