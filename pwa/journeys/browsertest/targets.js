// Lists what a gloved finger would stumble over: targets that are too low, main actions that are not full width, neighbours that
// stand too close, text that is too small. Sizes are CSS pixels.
(rule) => {
  const faults = [];
  const open = document.querySelector("dialog[open]"); // a panel over the page is all that can be reached
  const root = open ?? document.body;
  // What a closed list of details holds has a box and is not drawn: checkVisibility knows.
  const shown = (e) => e.checkVisibility({ visibilityProperty: true }) && !e.closest(".visually-hidden");
  const name = (e) => e.dataset.act ?? e.querySelector("[data-act]")?.dataset.act ?? e.id ?? e.outerHTML.slice(0, 80);
  const fixed = (e) => {
    for (let at = e; at; at = at.parentElement) {
      if (["fixed", "sticky"].includes(getComputedStyle(at).position)) return true;
    }
    return false;
  };

  // What is tapped: the control itself, or the label that holds a radio button, a check box or a file field.
  const controls = root.querySelectorAll("button, a[href], input:not([type=hidden]), select, textarea, summary, [role=button], [role=radio], [role=tab]");
  const targets = new Set();
  for (const control of controls) {
    const small = control.matches("input[type=radio], input[type=checkbox], input[type=file]");
    const target = small ? control.closest("label") ?? control : control;
    if (shown(target)) targets.add(target);
  }

  const boxes = [...targets].map((e) => ({ e, name: name(e), box: e.getBoundingClientRect(), fixed: fixed(e) }));
  const round = (n) => Math.round(n * 10) / 10;
  for (const { e, name, box } of boxes) {
    const main = e.matches(".big-main, .main-action");
    const least = main ? rule.main : rule.other;
    if (box.height < least - 0.5) faults.push(`${name} is ${round(box.height)} px high, wanted ${least}`);
    const narrow = e.closest("nav") ? rule.place : rule.other;
    if (box.width < narrow - 0.5) faults.push(`${name} is ${round(box.width)} px wide, wanted ${narrow}`);
    if (main) {
      const parent = e.parentElement;
      const style = getComputedStyle(parent);
      const room = parent.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      if (box.width < room - 1) faults.push(`${name} is a main action and ${round(box.width)} px wide, there is room for ${round(room)}`);
    }
  }

  const apart = (a, b) => {
    const across = Math.max(a.left - b.right, b.left - a.right);
    const down = Math.max(a.top - b.bottom, b.top - a.bottom);
    if (across < 0 && down < 0) return Math.max(across, down);
    return across > 0 && down > 0 ? Math.hypot(across, down) : Math.max(across, down);
  };
  for (let i = 0; i < boxes.length; i++) {
    for (let j = i + 1; j < boxes.length; j++) {
      const [a, b] = [boxes[i], boxes[j]];
      if (a.fixed !== b.fixed || a.e.contains(b.e) || b.e.contains(a.e)) continue; // what is fixed floats over the rest
      const gap = apart(a.box, b.box);
      if (gap < rule.gap - 0.5) faults.push(`${a.name} and ${b.name} are ${round(gap)} px apart, wanted ${rule.gap}`);
    }
  }

  const texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  const small = new Set();
  while (texts.nextNode()) {
    const holder = texts.currentNode.parentElement;
    if (!texts.currentNode.data.trim() || holder.closest("svg, .visually-hidden, [hidden]") || !shown(holder)) continue;
    const size = parseFloat(getComputedStyle(holder).fontSize);
    const least = holder.closest("p, li, dd, td, label") ? rule.text : rule.label;
    if (size < least - 0.5) small.add(`text of ${round(size)} px, wanted ${least}: ${holder.className || holder.tagName} “${texts.currentNode.data.trim().slice(0, 40)}”`);
  }
  return [...faults, ...small];
}
