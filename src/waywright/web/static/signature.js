// A signature drawn with a finger, a pen or the mouse: strokes of [x, y], x from 0 to 1, y from 0 to 0.3 (a box ten by three).
(() => {
  const NEAR = 0.002, MOST = 19000;
  const drawn = new WeakMap();
  const strokes = (pad) => drawn.get(pad) ?? drawn.set(pad, []).get(pad);
  const within = (value, high) => Math.round(1e4 * Math.min(high, Math.max(0, value))) / 1e4;
  const at = (pad, event) => {
    const place = pad.getBoundingClientRect();
    return [within((event.clientX - place.left) / place.width, 1), within((event.clientY - place.top) / place.width, 0.3)];
  };
  const tell = (pad) => pad.dispatchEvent(new CustomEvent("strokes", { detail: strokes(pad) }));
  function show(pad) {
    const line = (stroke) => `<polyline points="${(stroke.length > 1 ? stroke : [stroke[0], stroke[0]]).map((p) => p.join(",")).join(" ")}"/>`;
    pad.innerHTML = `<svg viewBox="0 0 1 0.3" width="100%" height="100%" fill="none" stroke="currentColor" stroke-width="0.006" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${strokes(pad).map(line).join("")}</svg>`;
  }
  let pad = null;
  document.addEventListener("pointerdown", (event) => {
    const hit = event.target.closest?.("[data-signature]");
    if (!hit || event.button > 0 || strokes(hit).flat().length > MOST) return;
    pad = hit;
    pad.setPointerCapture?.(event.pointerId);
    strokes(pad).push([at(pad, event)]);
    show(pad);
    event.preventDefault();
  });
  document.addEventListener("pointermove", (event) => {
    if (!pad) return;
    const stroke = strokes(pad).at(-1);
    for (const each of event.getCoalescedEvents?.() ?? [event]) {
      const [x, y] = at(pad, each), last = stroke.at(-1);
      if (Math.hypot(x - last[0], y - last[1]) >= NEAR && stroke.length < MOST) stroke.push([x, y]);
    }
    show(pad);
  });
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => {
    if (pad) tell(pad);
    pad = null;
  });
  document.addEventListener("click", (event) => {
    const press = event.target.closest?.("[data-signature-clear]");
    const cleared = press?.closest(".signing")?.querySelector("[data-signature]");
    if (!cleared) return;
    drawn.set(cleared, []);
    show(cleared);
    tell(cleared);
  });
})();
