// The pacer: a beat for every so many millimetres of travel. Beats are set ahead on the audio clock, each reckoned from the first one, so
// that late timers of a busy or hidden page neither shift a beat nor add up.
"use strict";

(() => {
  const AHEAD = 1.6; // s set ahead: timers of a hidden page may come only once a second
  const LOOK = 0.1; // s between two looks
  const FLASHES = 3; // a second at most (WCAG 2.3.1)
  let audio = null; // made in the tap that starts it
  let pace = null; // what beats now

  // What the owner switched off for this phone, see abilities.js.
  const uses = (name) => window.torchsideUses?.(name) ?? true;

  const say = (english) => window.torchsideWord?.(english) ?? english;

  // Says which of the chosen signals are switched off for this phone: a beat that stays silent without a word is taken for a fault.
  const tellMuted = (want) => {
    const line = document.getElementById("pace-muted");
    if (line === null) return;
    const off = [];
    if (want?.sound && !uses("sound")) off.push(say("Sound is switched off for this phone."));
    if (want?.shake && !uses("vibration")) off.push(say("Shake is switched off for this phone."));
    if (want?.flash && !uses("flash")) off.push(say("Flash is switched off for this phone."));
    if (off.length > 0) off.push(say("Bench has the switches."));
    line.textContent = off.join(" ");
  };

  const tick = (context, out, at, strong) => {
    const tone = context.createOscillator();
    const volume = context.createGain();
    tone.type = "square"; // cuts through a workshop better than a soft tone
    tone.frequency.value = strong ? 1320 : 880;
    volume.gain.setValueAtTime(0.0001, at);
    volume.gain.exponentialRampToValueAtTime(0.6, at + 0.004);
    volume.gain.exponentialRampToValueAtTime(0.0001, at + 0.07);
    tone.connect(volume).connect(out);
    tone.start(at);
    tone.stop(at + 0.08);
    return tone;
  };

  // A plan sets the beats of a pace on a context's clock: fill(until) sets those that begin before an instant and are not set yet.
  const plan = (context, out, { seconds, accent, first }) => {
    let next = 0;
    const tones = new Set();
    return {
      at: (n) => first + n * seconds,
      fill(until) {
        for (; first + next * seconds < until; next++) {
          if (first + next * seconds < context.currentTime) continue; // it was missed: better none than a late one
          const tone = tick(context, out, first + next * seconds, next % accent === 0);
          tones.add(tone);
          tone.onended = () => tones.delete(tone);
        }
      },
      stop() {
        for (const tone of tones) {
          try { tone.stop(); } catch { /* it has not begun */ }
          tone.disconnect();
        }
        tones.clear();
      },
    };
  };
  window.torchsidePacePlan = plan; // a measurement fills it on a clock of its own

  document.addEventListener("click", (event) => {
    if (!event.target.closest?.("[data-act='pacer-start']") || !window.AudioContext) return;
    audio ??= new AudioContext();
    audio.resume().catch(() => {});
  }, true);

  // The clock of the beats: that of the sound where it runs, else that of the page.
  const clock = () => (audio !== null && audio.state === "running"
    ? { name: "audio", now: () => audio.currentTime }
    : { name: "page", now: () => performance.now() / 1000 });

  const stop = () => {
    if (pace === null) return;
    clearInterval(pace.look);
    cancelAnimationFrame(pace.frame);
    pace.plan?.stop();
    pace = null;
    show(false, "");
  };

  const show = (on, text) => {
    const lamp = document.getElementById("pace-lamp");
    if (lamp === null) return;
    lamp.dataset.beat = on ? "on" : "off";
    const count = lamp.querySelector(".pace-count");
    if (count !== null && text !== null) count.textContent = text;
  };

  // What goes with a beat besides its sound: the lamp and the shake. Missed beats are passed over.
  const follow = (mine) => {
    if (pace !== mine) return;
    const now = mine.clock.now();
    const n = Math.floor((now - mine.first) / mine.want.seconds);
    const since = now - mine.first - n * mine.want.seconds;
    if (n >= 0 && n !== mine.last) {
      mine.last = n;
      const every = Math.max(1, Math.ceil(1 / (FLASHES * mine.want.seconds)));
      mine.lit = n % every === 0;
      show(mine.lit && mine.want.flash && uses("flash"), (n * mine.want.step).toFixed(mine.want.places) + " " + mine.want.unit);
      if (mine.want.shake && uses("vibration") && navigator.userActivation?.hasBeenActive) navigator.vibrate?.(n % mine.want.accent === 0 ? 80 : 40);
    } else if (since > Math.min(0.15, mine.want.seconds / 2)) {
      show(false, null);
    }
    mine.frame = requestAnimationFrame(() => follow(mine));
  };

  const start = (want) => {
    const mine = { want, clock: clock(), last: -1, lit: false };
    mine.first = mine.clock.now() + 0.3;
    pace = mine;
    if (want.sound && uses("sound") && mine.clock.name === "audio") {
      mine.plan = plan(audio, audio.destination, { seconds: want.seconds, accent: want.accent, first: mine.first });
      mine.plan.fill(audio.currentTime + AHEAD);
      mine.look = setInterval(() => mine.plan.fill(audio.currentTime + AHEAD), LOOK * 1000);
    }
    window.torchsidePaceNow = { clock: mine.clock.name, sounds: mine.plan !== undefined, beats: () => mine.last + 1 };
    follow(mine);
  };

  // Beats as asked; without seconds it stops. The sound wakes a moment after the tap: then it starts by the audio clock.
  window.torchsidePace = (want) => {
    stop();
    tellMuted(want.seconds > 0 ? want : null);
    if (!(want.seconds > 0)) return;
    if (audio === null || audio.state === "running") {
      start(want);
      return;
    }
    let begun = false;
    const once = () => { if (!begun) { begun = true; stop(); start(want); } };
    audio.resume().then(once, once);
    setTimeout(once, 500);
  };
})();
