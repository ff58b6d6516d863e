// The bed in space: turned with a finger, the arrow keys or the presses. It only turns what the server has worked out.
(() => {
  const START = { yaw: -0.42, pitch: 0.5 }, STEP = 0.14;
  const turned = { ...START };
  const within = (value, low, high) => Math.min(high, Math.max(low, value));

  function draw(place) {
    const scene = JSON.parse(place.dataset.scene), wide = place.clientWidth || 900, high = Math.max(260, wide * 0.36);
    const scale = 0.84 * wide / scene.length, [c, s] = [Math.cos(turned.yaw), Math.sin(turned.yaw)];
    const [cp, sp] = [Math.cos(turned.pitch), Math.sin(turned.pitch)];
    const at = ([x, y, z]) => {
      const along = x - scene.middle, deep = along * s + z * c;
      return [wide / 2 + scale * (along * c - z * s), high / 2 - scale * (y * cp - deep * sp)];
    };
    const points = (list) => list.map((p) => at(p).map((v) => v.toFixed(1)).join(",")).join(" ");
    const line = (list, look) => `<polyline points="${points(list)}" fill="none" ${look}/>`;
    const flat = (list) => list.map(([x, , z]) => [x, 0, Math.sign(z) * scene.gauge / 2]);
    const cross = (ways) => ways.front.map((front, i) => line([front, ways.rear[i]], 'stroke="var(--hairline)" stroke-width="1"')).join("");
    const out = [];
    const { front, rear } = scene.now, ends = [front[0], front[front.length - 1]];
    const plane = [...flat([front[0], front[front.length - 1], rear[rear.length - 1], rear[0], front[0]])];
    out.push(line(plane, 'stroke="var(--mute)" stroke-dasharray="7 4"'));
    for (const support of scene.supports) {
      const [x, y] = at([support.x, 0, support.z]);
      out.push(`<path d="M${x} ${y + 4}l5 9h-10z" fill="none" stroke="var(--mute)"/><text x="${x}" y="${y + 27}" text-anchor="middle" font-size="12" fill="var(--mute)">${support.name}</text>`);
    }
    if (scene.before) for (const way of ["rear", "front"]) out.push(line(scene.before[way], 'stroke="var(--mute)" stroke-width="1.5" stroke-dasharray="3 4"'));
    out.push(cross(scene.now), line(rear, 'stroke="var(--mute)" stroke-width="2.2"'), line(front, 'stroke="var(--ink)" stroke-width="2.8"'));
    for (const p of front) {
      const [x, y] = at(p);
      out.push(`<circle cx="${x}" cy="${y}" r="3.6" fill="${p[1] >= 0 ? "var(--ink)" : "var(--panel)"}" stroke="var(--ink)" stroke-width="1.6"/>`);
    }
    for (const way of ["front", "rear"]) {
      const last = scene.now[way].reduce((a, b) => (at(a)[0] > at(b)[0] ? a : b)), [x, y] = at(last);
      out.push(`<text x="${Math.min(x + 10, wide - 60)}" y="${y + 4}" font-size="13" fill="var(--${way === "front" ? "ink" : "mute"})">${scene.words[way]}</text>`);
    }
    place.innerHTML = `<svg viewBox="0 0 ${wide} ${high}" width="100%" height="${high}" font-family="B612">${out.join("")}</svg>`;
  }
  const all = () => document.querySelectorAll(".bed-view[data-scene]").forEach(draw);
  function turn(yaw, pitch) {
    turned.yaw = within(turned.yaw + yaw, -1.5, 1.5); turned.pitch = within(turned.pitch + pitch, 0, 1.5);
    all();
  }
  const ways = { left: [-STEP, 0], right: [STEP, 0], up: [0, STEP], down: [0, -STEP] };
  document.addEventListener("click", (event) => {
    const press = event.target.closest("[data-turn]");
    if (press) turn(...ways[press.dataset.turn]);
  });
  document.addEventListener("keydown", (event) => {
    const way = event.target.closest?.(".bed-view") && { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down" }[event.key];
    if (way) { event.preventDefault(); turn(...ways[way]); }
  });
  let held = null;
  document.addEventListener("pointerdown", (event) => { if (event.target.closest(".bed-view")) held = [event.clientX, event.clientY]; });
  document.addEventListener("pointermove", (event) => {
    if (!held) return;
    turn((event.clientX - held[0]) * 0.006, (event.clientY - held[1]) * 0.006);
    held = [event.clientX, event.clientY];
  });
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => { held = null; });
  new MutationObserver(() => { document.querySelectorAll(".bed-view[data-scene]").forEach((place) => { if (!place.firstChild || place.drawn !== place.dataset.scene) { place.drawn = place.dataset.scene; draw(place); } }); })
    .observe(document.documentElement, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-scene"] });
  addEventListener("resize", all);
  all();
})();
