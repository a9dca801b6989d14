// What the page needs before and beside the Go program: word of a new version, and a way out
// when the program has stopped. Loaded after /app.js, as a file because inline script is refused.
"use strict";

(() => {
  const hour = 3600 * 1000;
  let lastCheck = Date.now();
  let reloadWanted = false;

  // The Go program may start after the event, so the answer is also kept here.
  window.torchsideUpdateWaiting = false;

  function announce() {
    window.torchsideUpdateWaiting = true;
    window.dispatchEvent(new CustomEvent("torchside-update"));
  }

  // A worker that is installed while another one is in charge waits: that is the new version.
  function watch(worker) {
    worker.addEventListener("statechange", () => {
      if (worker.state === "installed" && navigator.serviceWorker.controller) {
        announce();
      }
    });
  }

  function watchRegistration(registration) {
    if (registration.waiting && navigator.serviceWorker.controller) {
      announce();
    }
    if (registration.installing) {
      watch(registration.installing);
    }
    registration.addEventListener("updatefound", () => watch(registration.installing));
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible" && Date.now() - lastCheck > hour) {
        lastCheck = Date.now();
        registration.update().catch(() => {}); // offline is no news
      }
    });
  }

  // Takes the new version into use. Called only from the person's tap, never by itself:
  // a reload in the middle of an entry would lose it.
  window.torchsideActivate = async () => {
    reloadWanted = true;
    const registration = await navigator.serviceWorker?.getRegistration();
    if (registration?.waiting) {
      registration.waiting.postMessage("activate-now");
    } else {
      location.reload();
    }
  };

  const say = (english) => window.torchsideWord?.(english) ?? english;

  // Shown when the Go program has ended: every control on the page is dead from then on.
  window.torchsideShowRestart = () => {
    if (document.getElementById("torchside-stopped")) {
      return;
    }
    const panel = document.createElement("div");
    panel.id = "torchside-stopped";
    panel.className = "torchside-stopped";
    panel.setAttribute("role", "alert");
    const text = document.createElement("p");
    text.textContent = say("The app has stopped because of a fault. What was saved is still here.");
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.act = "restart";
    button.textContent = say("Start again");
    button.addEventListener("click", () => location.reload());
    panel.append(text, button);
    document.body.append(panel);
    button.focus();
  };

  if ("serviceWorker" in navigator) {
    // The first worker takes charge of the page that installed it: nothing to say. Any later
    // change not asked for here was asked for in another tab: this page is now the old version.
    let hadController = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (reloadWanted) {
        location.reload();
      } else if (hadController) {
        announce();
      }
      hadController = true;
    });
    navigator.serviceWorker.ready.then(watchRegistration);
  }
})();
