// What this phone can do for the app: speech, sound, vibration, a screen that stays on, notifications, a flash. Each is tested by a tap, and the
// owner says what came of it, because no browser knows whether it was heard. Answers and switches stay in this browser;
// timer.js asks torchsideUses before it does any of it. On the page /abilities the sheet itself is drawn.
"use strict";

(() => {
  const kept = "torchside/abilities";
  const read = () => {
    try { return JSON.parse(localStorage.getItem(kept)) ?? {}; } catch { return {}; }
  };
  const keep = (name, change) => {
    const all = read();
    all[name] = { ...all[name], ...change };
    try { localStorage.setItem(kept, JSON.stringify(all)); } catch { return false; }
    return true;
  };
  window.torchsideUses = (name) => read()[name]?.use !== false;

  const say = (english) => window.torchsideWord?.(english) ?? english;
  const fill = (text, ...values) => values.reduce((t, value) => t.replace("%s", () => String(value)), text);

  const wait = (ms) => new Promise((done) => setTimeout(done, ms));

  const voices = () => {
    const list = speechSynthesis.getVoices();
    const here = list.filter((v) => v.localService).length;
    return list.length === 0 ? say("The browser knows speech and names no voice yet: the test tells.") :
      fill(say("Voices it names: %s. Without a network: %s."), list.length, here);
  };

  const speak = () => new Promise((done) => {
    const words = new SpeechSynthesisUtterance(say("Close the torch oxygen valve, then the fuel valve."));
    words.lang = document.documentElement.lang || "en";
    words.onstart = () => done(say("It began to speak."));
    words.onerror = (e) => done(fill(say("It did not speak: %s."), e.error || say("no reason given")));
    speechSynthesis.cancel();
    speechSynthesis.speak(words);
    wait(4000).then(() => done(say("Nothing began within 4 seconds: take it that this phone does not speak here.")));
  });

  const beeps = async () => {
    const audio = new AudioContext();
    await Promise.race([audio.resume(), wait(2000)]);
    if (audio.state !== "running") return say("The browser holds sound back.");
    for (let n = 0; n < 3; n++) {
      const tone = audio.createOscillator();
      const volume = audio.createGain();
      tone.type = "square";
      tone.frequency.value = 880;
      volume.gain.value = 0.4;
      tone.connect(volume).connect(audio.destination);
      tone.start(audio.currentTime + 0.1 + n * 0.35);
      tone.stop(audio.currentTime + 0.35 + n * 0.35);
    }
    wait(2000).then(() => audio.close());
    return say("Three beeps were sent out. Nothing heard: look at the volume, the silent switch and a headset.");
  };

  const shake = async () => (navigator.vibrate([400, 200, 400]) ?
    say("The browser took the order; one without a motor says so too.") : say("The browser refused to shake."));

  const awake = async () => {
    try {
      const lock = await navigator.wakeLock.request("screen");
      wait(10000).then(() => lock.release());
      return say("The screen is kept on for ten seconds now, as it would be while a timer runs and the page is in sight.");
    } catch (error) {
      return fill(say("Refused (%s). A battery saver may be the cause."), error.name);
    }
  };

  const permission = () => ({
    granted: say("Allowed for this site."), default: say("Not asked yet: the test asks."),
    denied: say("Refused for this site. Only the browser's own settings for this site can change that."),
  })[Notification.permission];

  const notify = async () => {
    if (Notification.permission === "default") await Notification.requestPermission();
    if (Notification.permission !== "granted") return permission();
    const worker = await Promise.race([navigator.serviceWorker?.ready, wait(3000)]);
    if (!worker) return say("Allowed, but the app's worker is not there to show one.");
    await worker.showNotification("Torchside", { body: say("A test. Nothing is wrong."), tag: "torchside-test" });
    return say("A notification was handed over.");
  };

  // The same lamp as the pacer's, no faster than three a second (WCAG 2.3.1).
  const flash = async () => {
    const lamp = document.querySelector('[data-val="flash-lamp"]');
    for (let n = 0; n < 3; n++) {
      lamp.dataset.beat = "on";
      await wait(200);
      lamp.dataset.beat = "off";
      await wait(400);
    }
    return say("The field above flashed three times.");
  };

  const abilities = () => [
    { name: "speech", title: say("Speech"), there: () => "speechSynthesis" in window, can: voices, test: speak, label: say("Speak a sentence"), ask: say("Did you hear it?") },
    { name: "sound", title: say("Sound"), there: () => "AudioContext" in window, can: () => say("It can make sound after a tap."), test: beeps, label: say("Sound three beeps"), ask: say("Did you hear them?") },
    { name: "vibration", title: say("Vibration"), there: () => "vibrate" in navigator, can: () => say("It may shake, if it has a motor."), test: shake, label: say("Shake"), ask: say("Did you feel it?") },
    { name: "awake", title: say("Screen stays on"), there: () => "wakeLock" in navigator, can: () => say("It can be asked to keep the screen on."), test: awake, label: say("Keep it on for ten seconds"), ask: say("Did it stay on?") },
    { name: "notification", title: say("Notifications"), there: () => "Notification" in window, can: permission, test: notify, label: say("Show one"), ask: say("Did you see it?") },
    { name: "flash", title: say("Flash"), there: () => true, can: () => say("It can light up a field with each beat of the pacer."), test: flash, label: say("Flash three times"), ask: say("Did you see it?"), lamp: true },
  ];

  const element = (kind, className, text) => {
    const e = document.createElement(kind);
    e.className = className;
    if (text) e.textContent = text;
    return e;
  };

  const button = (act, className, text, press) => {
    const b = element("button", className);
    b.type = "button";
    b.dataset.act = act;
    b.append(element("span", "big-label", text));
    b.addEventListener("click", press);
    return b;
  };

  // The owner's word counts more than the browser's.
  const verdict = (a) => {
    const mine = read()[a.name];
    if (!a.there()) return say("No: this browser cannot do it.");
    if (mine?.noticed === "yes") return fill(say("Yes: you noticed it on %s."), mine.at);
    if (mine?.noticed === "no") return fill(say("No: nothing was noticed on %s. Do not count on it."), mine.at);
    return say("Not tested yet.");
  };

  const card = (a) => {
    const section = element("section", "card");
    const body = element("div", "card-body");
    const word = element("p", "word");
    word.dataset.val = a.name + "-verdict";
    const can = element("p", "");
    can.dataset.val = a.name + "-can";
    can.setAttribute("role", "status");
    const ask = element("div", "stack");
    ask.hidden = true;
    const use = button("use-" + a.name, "big big-plain", "", () => {
      const on = !window.torchsideUses(a.name);
      if (!keep(a.name, { use: on })) can.textContent = say("The browser does not keep this switch.");
      draw();
    });
    const draw = () => {
      word.textContent = verdict(a);
      use.setAttribute("aria-pressed", String(window.torchsideUses(a.name)));
      use.firstChild.textContent = window.torchsideUses(a.name) ? say("Used here: on") : say("Used here: off");
    };
    const answer = (noticed) => () => {
      keep(a.name, { noticed, at: new Date().toLocaleDateString("sv") });
      ask.hidden = true;
      draw();
    };
    const answers = element("div", "pairs");
    answers.append(button(a.name + "-yes", "small", say("Yes"), answer("yes")), button(a.name + "-no", "small", say("No"), answer("no")));
    ask.append(element("p", "word", a.ask), answers);
    body.append(word, can);
    if (a.lamp) {
      const lamp = element("div", "pace-lamp", "");
      lamp.dataset.val = a.name + "-lamp";
      lamp.dataset.beat = "off";
      body.append(lamp);
    }
    if (a.there()) {
      can.textContent = a.can();
      body.append(button("test-" + a.name, "big big-plain", a.label, async () => {
        can.dataset.tested = "";
        can.textContent = "…";
        try {
          can.textContent = await a.test();
        } catch (error) {
          can.textContent = fill(say("It failed: %s."), error.name);
        }
        ask.hidden = false;
      }), ask, use);
    }
    draw();
    section.append(element("h2", "card-title", a.title), body);
    return section;
  };

  const page = document.getElementById("abilities");
  const drawAll = () => {
    for (const a of abilities()) page.append(card(a));
    if ("speechSynthesis" in window) speechSynthesis.onvoiceschanged = () => {
      const said = document.querySelector('[data-val="speech-can"]');
      if (said && !said.dataset.tested) said.textContent = voices();
    };
  };
  if (page) Promise.resolve(window.torchsideWordsReady).then(drawAll); // in the language chosen
})();
