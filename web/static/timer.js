// What a timer needs of the device: sound, vibration, a notification, a voice, and a screen that stays on. Time itself is the Go
// program's business: nothing is counted here.
"use strict";

(() => {
  let audio = null; // made in a tap: browsers keep sound silent before one
  let beeps = []; // scheduled ahead on the audio clock, which goes on when timers of a hidden page are slowed down
  let wakes = [];
  let pending = false; // rang while sound was blocked: the next tap rings
  let starts = []; // audio times the alarms begin at
  let wanted = false; // the screen is to stay on
  let lock = null;

  // What the owner switched off for this phone, see abilities.js.
  const uses = (name) => window.torchsideUses?.(name) ?? true;

  const tell = (name, state) => {
    window[name] = state;
    window.dispatchEvent(new CustomEvent("torchside-timer"));
  };

  const beep = (at, length, pitch) => {
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.type = "square"; // cuts through a workshop better than a soft tone
    tone.frequency.value = pitch;
    volume.gain.setValueAtTime(0.0001, at);
    volume.gain.exponentialRampToValueAtTime(0.5, at + 0.01);
    volume.gain.setValueAtTime(0.5, at + length - 0.02);
    volume.gain.exponentialRampToValueAtTime(0.0001, at + length);
    tone.connect(volume).connect(audio.destination);
    tone.start(at);
    tone.stop(at + length);
    return tone;
  };

  // Three beeps every four seconds for a minute, from an instant of the audio clock on; a short signal is two lower ones, once.
  const rings = (at, short) => {
    if (!uses("sound")) return;
    for (let group = 0; group < (short ? 1 : 15); group++) {
      for (let n = 0; n < (short ? 2 : 3); n++) beeps.push(beep(at + group * 4 + n * 0.35, 0.25, short ? 587 : 880));
    }
    starts.push(at);
  };

  const silence = () => {
    for (const tone of beeps) {
      try { tone.stop(); } catch { /* it has not begun */ }
      tone.disconnect();
    }
    beeps = [];
    for (const wake of wakes) clearTimeout(wake);
    wakes = [];
    starts = [];
  };

  const ready = () => audio !== null && audio.state === "running";

  const tellSound = () => {
    if (!uses("sound")) tell("torchsideSound", "off");
    else if (audio !== null) tell("torchsideSound", ready() ? "ready" : "blocked");
  };

  // Every tap may wake the sound; a control marked data-arms also makes it, sounds a test beep and asks to notify.
  document.addEventListener("click", (event) => {
    const arms = event.target.closest?.("[data-arms]");
    if ((arms || wanted || pending) && audio === null && window.AudioContext) {
      audio = new AudioContext();
      audio.onstatechange = tellSound;
    }
    if (audio === null) return;
    audio.resume().then(() => {
      tellSound();
      if (pending) {
        pending = false;
        rings(audio.currentTime);
      }
    }, () => {});
    if (!arms) return;
    if (uses("sound")) beep(audio.currentTime + 0.05, 0.12, 660);
    if (uses("notification") && "Notification" in window && Notification.permission === "default") Notification.requestPermission().catch(() => {});
  }, true);

  // A browser refuses to shake before the first tap, and complains.
  const shake = () => {
    if (uses("vibration") && navigator.userActivation?.hasBeenActive) navigator.vibrate?.([400, 200, 400, 200, 800]);
  };

  const notify = (text) => {
    if (!uses("notification") || !("Notification" in window) || Notification.permission !== "granted" || !document.hidden) return;
    navigator.serviceWorker?.ready.then((worker) => worker.showNotification("Torchside", { body: text, tag: "torchside-timer", requireInteraction: true })).catch(() => {});
  };

  // Replaces all alarms. An empty list silences what rings.
  window.torchsideAlarms = (list) => {
    silence();
    pending = false;
    for (const alarm of list) {
      if (ready()) rings(audio.currentTime + alarm.in / 1000, alarm.short);
      else if (alarm.in <= 0) pending = true;
      if (alarm.in > 0) wakes.push(setTimeout(() => { shake(); notify(alarm.text); }, alarm.in));
    }
    wanted = list.length > 0;
    keepAwake();
  };

  // Rings at once, unless the alarm set before is ringing already.
  window.torchsideRing = (text, short) => {
    if (!ready()) {
      pending ||= !short;
    } else if (!starts.some((at) => Math.abs(audio.currentTime - at) < 5)) {
      rings(audio.currentTime, short);
    }
    shake();
    notify(text);
  };

  window.torchsideSay = (text) => {
    if (!window.speechSynthesis || !uses("speech")) return;
    const words = new SpeechSynthesisUtterance(text);
    words.lang = document.documentElement.lang || "en";
    speechSynthesis.speak(words);
  };

  // Reads a text in place of whatever is being read; an empty one only ends that.
  window.torchsideReadAloud = (text) => {
    if (!window.speechSynthesis) return;
    speechSynthesis.cancel();
    if (text) window.torchsideSay(text);
  };

  // The screen stays on while a timer runs and the page is in sight. A hidden page loses the lock and asks again when it is back.
  const keepAwake = async () => {
    if (!wanted) {
      await lock?.release().catch(() => {});
      lock = null;
      tell("torchsideAwake", "");
      return;
    }
    if (!uses("awake")) {
      tell("torchsideAwake", "off");
      return;
    }
    if (!navigator.wakeLock) {
      tell("torchsideAwake", "none");
      return;
    }
    if (document.hidden || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => { if (wanted) tell("torchsideAwake", "refused"); });
      tell("torchsideAwake", "held");
    } catch {
      tell("torchsideAwake", "refused");
    }
  };
  document.addEventListener("visibilitychange", () => { if (!document.hidden) keepAwake(); });
})();
