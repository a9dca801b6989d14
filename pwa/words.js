// The words of the language, read while the program is still on its way. Stands before go-app's own script, which waits for
// torchsideWordsReady before it starts the program, and by itself in the pages beside the program. Without a catalogue everything is in
// English.
"use strict";

(() => {
  const kept = "torchside/language";
  const beside = document.currentScript.src; // the app may lie below a folder of its host
  const known = ["en", "es", "de"];
  const read = () => {
    try { return localStorage.getItem(kept) ?? ""; } catch { return ""; }
  };
  const chosen = known.includes(read()) ? read() : "";
  const ofPhone = (navigator.languages ?? [navigator.language]).map((name) => String(name).slice(0, 2).toLowerCase());
  const language = chosen || ofPhone.find((name) => known.includes(name)) || "en";
  const words = { language: "en", chosen, texts: "" };
  let texts = {};
  window.torchsideWords = words;

  // Says a text of the page's scripts.
  window.torchsideWord = (english) => texts[english] || english;

  // What the server has drawn stands there in English until the program draws it anew.
  const translate = (root) => {
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const text = node.data.trim();
      if (texts[node.data]) node.data = texts[node.data];
      else if (texts[text]) node.data = node.data.replace(text, () => texts[text]);
    }
    for (const element of root.querySelectorAll("[data-said]")) {
      element.textContent = (texts[element.dataset.said] || element.dataset.said).replace("%s", () => texts[element.dataset.hole] || element.dataset.hole);
    }
    for (const element of root.querySelectorAll("[aria-label]")) {
      element.ariaLabel = texts[element.ariaLabel] || element.ariaLabel;
    }
  };

  const load = async () => {
    const response = await fetch(new URL(`web/words/${language}.json`, beside), { signal: AbortSignal.timeout?.(20000) });
    if (!response.ok) throw new Error(`the answer was ${response.status}`);
    texts = await response.json();
    words.language = language;
    words.texts = Object.entries(texts).filter(([, text]) => text).flat().join("\0");
    document.documentElement.lang = language;
    if (document.readyState === "loading") await new Promise((done) => document.addEventListener("DOMContentLoaded", done, { once: true }));
    translate(document.body);
    document.title = texts[document.title] || document.title;
  };
  window.torchsideWordsReady = language === "en" ? Promise.resolve() :
    load().catch((error) => console.error(`no words for ${language}, English is shown: `, error));

  // Keeps the choice on this phone and begins anew with it; "" is the language of the phone.
  window.torchsideLanguage = (name) => {
    try {
      localStorage.setItem(kept, name);
    } catch {
      return false;
    }
    location.reload();
    return true;
  };
})();
