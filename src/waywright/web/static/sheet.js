// The field of a sheet: Enter, a foot switch or a spoken word confirms. The field is emptied here, at once, so that
// the next number can be typed before the server has answered. Nothing here computes a result.
(() => {
  const field = () => document.querySelector(".sheet-input");
  const button = (name) => document.querySelector(`[data-sheet-does="${name}"]`);
  const saved = (name) => localStorage.getItem(`sheet-${name}`) || "";

  function confirm(by) {
    const input = field();
    if (!input) return;
    const detail = [input.value, input.dataset.state || "asked", by];
    input.value = "";
    input.dispatchEvent(new CustomEvent("entered", { detail }));
    input.focus();
  }

  document.addEventListener("keydown", (event) => {
    if (event.isComposing || event.ctrlKey || event.altKey || event.metaKey) return;
    const pedal = saved("pedal");
    if (pedal && event.key === pedal && !event.repeat) { event.preventDefault(); confirm("foot-switch"); return; }
    if (event.key === "Enter" && event.target === field()) { event.preventDefault(); confirm("typed"); }
  });

  // A column copied from somewhere goes in value by value.
  document.addEventListener("paste", (event) => {
    const input = field();
    if (event.target !== input) return;
    const values = event.clipboardData.getData("text").trim().split(/[\s;]+/);
    if (values.length < 2) return;
    event.preventDefault();
    for (const value of values) { input.value = value; confirm("typed"); }
  });

  document.addEventListener("click", (event) => {
    const name = event.target.closest("[data-sheet-does]")?.dataset.sheetDoes;
    if (name === "keep") confirm("typed");
    if (name === "listen") listen();
    if (name === "read-back") toggle("read-back");
  });
  document.addEventListener("change", (event) => {
    if (event.target.dataset.sheetDoes === "pedal") { localStorage.setItem("sheet-pedal", event.target.value); field()?.focus(); }
  });

  function toggle(name, on = saved(name) !== "yes") {
    localStorage.setItem(`sheet-${name}`, on ? "yes" : "");
    button(name)?.setAttribute("aria-pressed", String(on));
  }

  // Spoken: a number fills the field, "take" keeps it, "back" takes the last one back.
  const TAKE = /\b(take|keep|next|yes|nehmen|weiter|ja)\b/, BACK = /\b(back|undo|zurück)\b/;
  let hearing = null;
  function listen() {
    const Recognition = window.SpeechRecognition || window.webkitSpeechRecognition;
    if (hearing) { hearing.stop(); hearing = null; button("listen")?.setAttribute("aria-pressed", "false"); return; }
    hearing = new Recognition();
    hearing.lang = document.documentElement.lang || "en";
    hearing.continuous = true;
    hearing.onresult = (event) => heard(event.results[event.results.length - 1][0].transcript.toLowerCase());
    hearing.onend = () => { if (hearing) hearing.start(); };
    hearing.start();
    button("listen")?.setAttribute("aria-pressed", "true");
  }
  function heard(words) {
    const plain = words.replace(/\bminus\s*/g, "-").replace(/\bplus\s*/g, "").replace(/\s*\b(point|comma|komma|punkt)\b\s*/g, ".").replace("\u2212", "-");
    const number = plain.match(/-?\d+(?:[.,]\d+)?/);
    const input = field();
    if (!input) return;
    if (number) input.value = number[0];
    if (BACK.test(plain)) { button("undo")?.click(); return; }
    if (TAKE.test(plain)) confirm("spoken");
  }

  function begin() {
    const pedal = button("pedal");
    if (pedal) pedal.value = saved("pedal");
    toggle("read-back", saved("read-back") === "yes" && "speechSynthesis" in window);
    if (!(window.SpeechRecognition || window.webkitSpeechRecognition)) button("listen")?.remove();
    if (!("speechSynthesis" in window)) button("read-back")?.remove();
    field()?.focus();
    const kept = document.querySelector(".kept");
    if (kept) new MutationObserver(() => {
      if (saved("read-back") !== "yes" || !kept.textContent) return;
      const words = new SpeechSynthesisUtterance(kept.textContent);
      words.lang = document.documentElement.lang || "en";
      speechSynthesis.cancel();
      speechSynthesis.speak(words);
    }).observe(kept, { childList: true, characterData: true, subtree: true });
  }
  // The page is drawn by the toolkit after this script has come.
  const waiting = setInterval(() => { if (field()) { clearInterval(waiting); begin(); } }, 50);
})();
