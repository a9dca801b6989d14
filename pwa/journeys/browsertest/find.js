// Finds one element by its hook and makes it ready for a finger: scrolled into view, no longer moving, and not covered, on a page
// that has come to rest. Returns the middle of what can be tapped, or what is in the way. The next click leaves in
// torchsideLanded whether it met the element.
async (hook, patience) => {
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const end = performance.now() + patience;
  let why = "";
  while (performance.now() < end) {
    const all = [...document.querySelectorAll(`[data-act="${CSS.escape(hook)}"]`)].filter((e) => e.getClientRects().length > 0);
    if (all.length !== 1) {
      why = `${all.length} visible elements have data-act="${hook}"`;
    } else if (all[0].matches(":disabled")) {
      why = `${hook} is disabled`;
    } else if ("moving" in document.documentElement.dataset) {
      why = "the page is about to show another part of itself";
    } else {
      all[0].scrollIntoView({ block: "center", inline: "center", behavior: "instant" });
      await frame();
      const before = all[0].getBoundingClientRect();
      await frame();
      const now = all[0].getBoundingClientRect();
      const x = now.left + now.width / 2;
      const y = now.top + now.height / 2;
      const hit = document.elementFromPoint(x, y);
      if (before.top !== now.top || before.left !== now.left) {
        why = `${hook} moves`;
      } else if (hit && (all[0].contains(hit) || hit.contains(all[0]))) {
        const [wanted] = all;
        window.torchsideLanded = "";
        const landed = ({ target, clientX, clientY }) => {
          const met = wanted.contains(target) || target.contains(wanted);
          window.torchsideLanded = met ? "met" : `${clientX}, ${clientY}: ${target.outerHTML.slice(0, 160)}`;
        };
        window.addEventListener("click", landed, { capture: true, once: true });
        if (!window.torchsideTouched) {
          for (const kind of ["pointerdown", "pointerup", "pointercancel", "touchstart", "touchend", "touchcancel", "click"]) {
            window.addEventListener(kind, (e) => window.torchsideTouched.push(`${kind}${e.defaultPrevented ? " (prevented)" : ""}`), { capture: true, passive: true });
          }
        }
        window.torchsideTouched = [];
        return { x, y, why: "" };
      } else {
        why = `${hook} is covered by ${hit ? hit.outerHTML.slice(0, 200) : "nothing: it is outside the window"}`;
      }
    }
    await new Promise((done) => setTimeout(done, 20));
  }
  return { x: 0, y: 0, why };
}
