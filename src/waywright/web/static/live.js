// Live figures: one WebSocket a page, the newest picture only. Nothing here computes a result.
(() => {
  const MINUS = "\u2212";
  const zeros = {};
  let picture = null, socket = null, last = {}, tries = 0, audio = null, lock = null;

  const language = () => document.documentElement.dataset.language ?? document.documentElement.lang;
  const marked = (text) => language() === "de" ? text.replace(".", ",") : text;
  const signed = (value, digits) => {
    if (value === null || value === undefined) return "\u2013";
    const text = Math.abs(value).toFixed(digits);
    return marked(Number(text) === 0 ? text : (value < 0 ? MINUS : "+") + text);
  };
  const plain = (value, digits) => value === null || value === undefined ? "\u2013" : marked(value.toFixed(digits).replace("-", MINUS));
  const put = (name, text) => document.querySelectorAll(`[data-live="${name}"]`).forEach((place) => {
    if (place.textContent !== text) place.textContent = text;
  });

  function show(now) {
    picture = now;
    if (document.documentElement.lang !== language()) document.documentElement.lang = language();  // the toolkit has its own
    const mine = document.querySelector("[data-line]");
    const here = !mine || now.line === null || mine.dataset.line === now.line;
    put("words", here ? now.words : "");
    const still = now.motion === "averaging" || now.motion === "taken" ? 1 : 0;
    put("position", here && now.position_mm !== null ? plain(now.position_mm * now.place.per, now.place.digits + still) : "\u2013");
    put("readings", String(now.readings));
    for (const figure of now.figures) {
      const zero = zeros[figure.code] ?? 0;
      put(`value-${figure.code}`, here && figure.value !== null ? signed((figure.value - zero) * figure.per, figure.digits) : "\u2013");
    }
    for (const item of now.health) {
      put(`rate-${item.channel}`, `${item.rate_hz} / ${item.expected_hz}`);
      put(`age-${item.channel}`, plain(item.age_s, 1));
      put(`scatter-${item.channel}`, plain(item.scatter, 2));
    }
    document.querySelectorAll("[data-live-bar] > i").forEach((bar) => { 
      bar.style.width = `${100 * (here ? now.progress : 0)}%`;
      bar.parentElement.hidden = now.phase !== "armed";
    });
    document.querySelectorAll("[data-again]").forEach((place) => {
      place.hidden = !here || !now.again;
      if (place.textContent !== now.again) place.textContent = now.again;
    });
    turning(now.turn);
    alarmed(now.alarm);
    mute();
    if (here) { carriage(now.position_mm); heard(now); }
    document.querySelectorAll("[data-fit]").forEach(fit);
    // A phone that was opened before anything was connected shows what there is now.
    if (document.querySelector("[data-phone]") && now.figures.length !== document.querySelectorAll("[data-fit]").length && now.line) location.reload();
    last = now;
  }

  // The support that is being turned: reading of target, the turns to go as words and as a ring.
  let spoken = 0;
  function turning(turn) {
    const shown = (value, digits) => turn && value !== null ? signed(value * turn.per, digits) : "\u2013";
    put("turn-value", shown(turn?.value_um, turn?.digits));
    put("turn-target", shown(turn?.target_um, turn?.digits));
    put("turn-unit", turn ? turn.unit : "");
    put("turn-asked", turn ? turn.asked : "");
    put("turn-why", turn?.why ?? "");
    document.querySelectorAll("[data-turn-live]").forEach((place) => { place.hidden = !turn || turn.target_um === null; });
    document.querySelectorAll("[data-turn-blind]").forEach((place) => { place.hidden = !turn || turn.target_um !== null; });
    put("turn-words", turn ? turn.words : "");
    put("turn-support", turn ? turn.support : "");
    document.querySelectorAll("[data-turn-ring]").forEach((place) => {
      const ring = turn ? turn.ring : "";
      if (place.drawn !== ring) { place.drawn = ring; place.innerHTML = ring; }
    });
    document.querySelectorAll("[data-turn-bar] > i").forEach((bar) => { bar.style.width = `${Math.max(0, Math.min(100, 100 * (turn?.part ?? 0)))}%`; });
    document.querySelectorAll("[data-turning]").forEach((place) => { place.hidden = !turn; });
    const wanted = document.querySelector("[data-turn-ring]") && document.querySelector("[data-speak='yes']");
    if (turn && wanted && turn.words !== last.turn?.words && performance.now() - spoken > 2500) { spoken = performance.now(); speak(turn.words); }
  }
  function speak(words) {
    if (!window.speechSynthesis) return;
    const said = new SpeechSynthesisUtterance(words);
    said.lang = language();
    speechSynthesis.cancel();
    speechSynthesis.speak(said);
  }

  // An alarm fills every screen and sounds until somebody has said at its own press that it is seen: the keys of a
  // presenter or a foot switch, escape, and a touch beside the press do nothing.
  let siren = null;
  const alarm = () => document.querySelector("[data-alarm]:not([hidden])");
  function alarmed(sentence) {
    document.querySelectorAll("[data-alarm]").forEach((place) => {
      const what = place.querySelector(".what"), begins = sentence && place.hidden;
      place.hidden = !sentence;
      if (sentence && what.textContent !== sentence) what.textContent = sentence;
      if (begins) place.focus();
    });
    if (sentence && siren === null) { wail(); siren = setInterval(wail, 600); }
    if (!sentence && siren !== null) { clearInterval(siren); siren = null; }
  }
  function wail() {
    sound(880, 0.25); setTimeout(() => sound(620, 0.25), 260);
    if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.([250, 100]);
  }
  // Browsers let a page sound only after a touch; until then it says that it is mute.
  function mute() {
    const heard = audio?.state === "running";
    document.querySelectorAll("[data-mute]").forEach((place) => { place.hidden = heard; });
  }
  for (const name of ["keydown", "keyup"]) document.addEventListener(name, (event) => {
    const shown = alarm();
    if (!shown) return;
    const press = shown.querySelector("button");
    if (event.key === "Tab" && press) { event.preventDefault(); if (name === "keydown") press.focus(); }
    else if (!(event.key === "Enter" && event.target === press)) event.preventDefault();
    event.stopImmediatePropagation();
  }, true);

  // The carriage of the way drawing moves by itself; the server draws it where it stood when it drew.
  function carriage(position) {
    if (position === null) return;
    document.querySelectorAll("[data-px-per-mm]").forEach((drawing) => {
      if (!drawing.querySelector(".carriage")) return;
      const shift = (position - Number(drawing.dataset.drawnMm)) * Number(drawing.dataset.pxPerMm);
      drawing.querySelectorAll(".carriage").forEach((group) => group.setAttribute("transform", `translate(${shift.toFixed(1)} 0)`));
      drawing.querySelectorAll("line[stroke-dasharray='1.5 4.5']").forEach((beam) => {
        beam.dataset.end ??= beam.getAttribute("x2");
        beam.setAttribute("x2", (Number(beam.dataset.end) + shift).toFixed(1));
      });
    });
  }

  // The large figure fills the width, or the height that is left for it; the size changes only with its length.
  function fit(place) {
    const hero = place.closest(".hero"), length = Math.max(place.textContent.length, 4);
    const wanted = hero ? `${Math.floor(Math.min((innerWidth - 24) / (0.64 * length), innerHeight * 0.46))}px` : "";
    if (place.style.fontSize !== wanted) place.style.fontSize = wanted;
  }

  // A short sound for a reading, a lower one where something is wrong.
  function heard(now) {
    if (now.pass === last.pass && now.readings > (last.readings ?? 0)) {
      sound(1250, 0.09);
      if (document.querySelector("[data-speak='yes']") && window.speechSynthesis)
        speak(String(Math.round(now.last_mm)));
    }
    if (now.motion === "silent" && last.motion !== "silent") sound(330, 0.5);
    if (now.phase === "armed" && last.phase !== "armed") awake(true);
    if (now.phase !== "armed" && last.phase === "armed") { sound(880, 0.25); awake(false); }
  }
  function sound(hertz, seconds) {
    if (!audio || audio.state !== "running") return;
    const tone = audio.createOscillator(), volume = audio.createGain();
    tone.frequency.value = hertz;
    volume.gain.setValueAtTime(0.25, audio.currentTime);
    volume.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + seconds);
    tone.connect(volume).connect(audio.destination);
    tone.start(); tone.stop(audio.currentTime + seconds);
  }
  async function awake(wanted) {
    try {
      if (wanted) lock = await navigator.wakeLock?.request("screen");
      else { await lock?.release(); lock = null; }
    } catch { /* the system may refuse; the page says nothing it cannot keep */ }
  }

  // A low battery is said, on the computer whose battery it is.
  navigator.getBattery?.().then((battery) => {
    const look = () => document.querySelectorAll("[data-battery]").forEach((place) => {
      place.hidden = battery.charging || battery.level > 0.2;
      place.textContent = place.dataset.battery.replace("%", String(Math.round(100 * battery.level)));
    });
    for (const name of ["levelchange", "chargingchange"]) battery.addEventListener(name, look);
    setTimeout(look, 800);
  }).catch(() => {});

  function connect() {
    socket = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`);
    socket.onopen = () => { tries = 0; document.documentElement.removeAttribute("data-cut"); };
    socket.onmessage = (message) => show(JSON.parse(message.data));
    socket.onclose = () => {
      document.documentElement.setAttribute("data-cut", "yes");
      put("words", document.querySelector("[data-cut-words]")?.dataset.cutWords ?? "");
      setTimeout(connect, Math.min(4000, 250 * 2 ** tries++));
    };
  }

  // Space takes by hand, backspace takes the last station again: a presenter or a foot switch sends these too.
  document.addEventListener("keydown", (event) => {
    if (event.target.closest("input, textarea, select, [contenteditable]") || event.repeat) return;
    const name = { " ": "take", "Backspace": "again" }[event.key];
    const button = name && document.querySelector(`[data-key="${name}"]`);
    if (!button || (event.key === " " && event.target.closest("button, a"))) return;
    event.preventDefault();
    button.click();
  });
  document.addEventListener("click", (event) => {
    audio ??= window.AudioContext ? new AudioContext() : null;
    audio?.resume();
    const press = event.target.closest("[data-does]");
    if (press) does[press.dataset.does]?.(press);
  });
  const does = {
    zero: () => { for (const figure of picture?.figures ?? []) if (figure.value !== null) zeros[figure.code] = figure.value; zeroed(); },
    unzero: () => { for (const code in zeros) delete zeros[code]; zeroed(); },
    large: () => document.querySelector(".large")?.classList.add("open"),
    small: () => document.querySelector(".large")?.classList.remove("open"),
    speak: (press) => {
      const on = press.dataset.speak !== "yes";
      press.dataset.speak = on ? "yes" : "no"; press.setAttribute("aria-pressed", String(on));
    },
    hero: (press) => {
      document.querySelectorAll(".phone-figure").forEach((other) => other.classList.toggle("hero", other === press));
      document.querySelectorAll("[data-fit]").forEach(fit);
    },
    post: async (press) => {
      const said = document.querySelector("[data-said]");
      if (!said) { await fetch(press.dataset.post, { method: "POST" }); return; }
      try { said.textContent = (await (await fetch(press.dataset.post, { method: "POST" })).json()).said; }
      catch { said.textContent = document.querySelector("[data-cut-words]").dataset.cutWords; }
      said.hidden = false;
    },
    light: () => {
      const dark = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim() === document.documentElement.dataset.darkPaper;
      const wanted = dark ? "light" : "dark";
      localStorage.setItem("light", wanted); document.documentElement.dataset.light = wanted;
    },
  };
  const zeroed = () => { document.querySelectorAll("[data-zeroed]").forEach((place) => { place.hidden = !Object.keys(zeros).length; }); if (picture) show(picture); };

  // A finger is wide: what lies nearest to the touch on the way drawing is meant.
  window.nearestOnWay = (event) => {
    let best = null, distance = 30;
    event.currentTarget.querySelectorAll("[data-support], .point, .station").forEach((thing) => {
      const box = thing.getBoundingClientRect();
      const across = Math.max(box.left - event.clientX, 0, event.clientX - box.right);
      const up = Math.max(box.top - event.clientY, 0, event.clientY - box.bottom - (thing.dataset.support ? 26 : 0));
      if (Math.hypot(across, up) < distance) { distance = Math.hypot(across, up); best = thing; }
    });
    return best ? [best.dataset.support ?? null, best.dataset.positionMm ?? null] : null;
  };
  connect();
})();
