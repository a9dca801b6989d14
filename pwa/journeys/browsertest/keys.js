// Puts the focus on what stands before a control, so that the Tab key must reach it from there. Returns how to go on: whether the
// focus stands behind it instead (the control is the first of all), and for one of a group of radios, which Tab enters as one, how
// many presses of the arrow key lead on.
(hook) => {
  const wanted = [...document.querySelectorAll(`[data-act="${CSS.escape(hook)}"]`)].find((e) => e.getClientRects().length > 0);
  const kinds = "a[href], button, input, select, textarea, summary, [tabindex]";
  const control = wanted.matches(kinds) ? wanted : wanted.querySelector(kinds);
  if (control === null) return { why: `${hook} holds nothing that takes a key` };
  const scope = wanted.closest("dialog[open]") ?? document;
  const radios = (e) => [...scope.querySelectorAll("input[type=radio]")].filter((other) => other.name === e.name && !other.disabled);
  const entry = (e) => radios(e).find((other) => other.checked) ?? radios(e)[0];
  const all = [...scope.querySelectorAll(kinds)].filter((e) => e.tabIndex >= 0 && !e.disabled &&
    e.checkVisibility({ visibilityProperty: true }) && (e.type !== "radio" || e === entry(e)));
  const stop = control.type === "radio" ? entry(control) : control;
  const at = all.indexOf(stop);
  if (at < 0) return { why: `the Tab key passes over ${hook}` };
  const behind = at === 0;
  if (all.length > 1) all[behind ? 1 : at - 1].focus();
  window.torchsideControl = control;
  window.torchsideStop = stop;
  window.torchsideBefore = document.activeElement;
  const group = control.type === "radio" ? radios(control) : [];
  return {
    why: "", behind, alone: all.length === 1, arrows: group.length > 0 ? (group.indexOf(control) - group.indexOf(stop) + group.length) % group.length : 0,
    key: control.matches("input[type=radio], input[type=checkbox]") ? " " : "\r", checked: control.type === "radio" && control.checked,
  };
}
