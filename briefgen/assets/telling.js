/* The told sortie: one scene on the whole screen, its callouts lit one after another, and the speaker's window beside
   it. Without this script the scenes are a page to scroll. Nothing is sent anywhere but between the two windows. */
(() => {
  const root = document.querySelector("[data-told]");
  if (!root) return;
  const scenes = [...root.querySelectorAll(".bg-scene")];
  if (!scenes.length) return;
  const part = (name) => root.querySelector(`[data-told="${name}"]`);
  const speaking = new URLSearchParams(window.location.search).has("speaker");
  const state = { scene: 0, pin: -1, mode: "page" };
  let peer = speaking ? window.opener : null;
  let began = null, addressing = 0;
  const SETTLED = 300;

  const clock = (seconds) => {
    const whole = Math.max(0, Math.round(seconds));
    return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  };
  const number = (scene, name) => Number(scene.dataset[name] || 0);
  const pinsOf = (scene) => [...scene.querySelectorAll(".bg-scene__pin")];
  const clipOf = (scene) => scene.querySelector("video[data-clip]");
  // A clip's callouts are lit by the clip; it is one stop itself, at which it plays.
  const stopsOf = (scene) => (clipOf(scene) ? 1 : pinsOf(scene).length);
  const looksOf = (scene) => [...scene.querySelectorAll(".bg-scene__look > li")];

  /* -- one scene -- */

  function show() {
    // Asked before anything changes, where the answer needs no layout.
    if (root.scrollTop) root.scrollTop = 0;
    scenes.forEach((scene, place) => scene.toggleAttribute("data-now", place === state.scene));
    const now = scenes[state.scene];
    for (const row of clipOf(now) ? [] : [pinsOf(now), looksOf(now)]) {
      row.forEach((one, place) => {
        one.toggleAttribute("data-lit", place === state.pin);
        one.toggleAttribute("data-told", place <= state.pin);
      });
    }
    part("where").textContent = `Scene ${state.scene + 1} of ${scenes.length}`;
    clearTimeout(addressing);
    if (state.mode !== "page") addressing = setTimeout(address, SETTLED);
    if (speaking) tellSpeaker();
  }

  /** The address follows once a scene stays: to write it takes longer than to show the scene. */
  function address() {
    try { window.history.replaceState(null, "", `#${scenes[state.scene].id}`); } catch { /* Some browsers forbid it in a folder. */ }
  }

  /** Goes to a scene, and to its pin `pin`; tells the other window unless that one asked for it. */
  function go(scene, pin = -1, quiet = false) {
    const before = { ...state };
    state.scene = Math.min(scenes.length - 1, Math.max(0, scene));
    state.pin = Math.min(stopsOf(scenes[state.scene]) - 1, Math.max(-1, pin));
    show();
    film(before);
    if (!quiet && peer) peer.postMessage({ briefgen: "scene", scene: state.scene, pin: state.pin }, "*");
  }

  /** A clip plays when its stop is come to from its own scene; it is left at rest, and gone back from at its start. */
  function film(before) {
    if (before.scene !== state.scene) scenes.forEach((scene) => clipOf(scene)?.pause());
    const clip = clipOf(scenes[state.scene]);
    if (!clip || before.scene !== state.scene || before.pin === state.pin) return;
    if (state.pin < 0) {
      clip.pause();
      clip.currentTime = 0;
    } else if (!speaking || !peer) clip.play().catch(() => {});
  }

  function on() {
    if (speaking && began === null) began = performance.now();
    if (state.pin + 1 < stopsOf(scenes[state.scene])) go(state.scene, state.pin + 1);
    else if (state.scene + 1 < scenes.length) go(state.scene + 1);
  }

  function back() {
    if (state.pin >= 0) go(state.scene, state.pin - 1);
    else if (state.scene > 0) go(state.scene - 1, Infinity);
  }

  /** Pictures are read in ahead, one after another while nothing else is to do, the nearest scene's first: a picture
      that came while a scene is changed would hold that change up. */
  const idle = window.requestIdleCallback?.bind(window) ?? ((act) => setTimeout(act, 50));
  async function readAhead() {
    const waiting = [...scenes.slice(state.scene), ...scenes.slice(0, state.scene).reverse()]
      .flatMap((scene) => [...scene.querySelectorAll("img")]).find((image) => image.loading === "lazy");
    root.toggleAttribute("data-pictured", !waiting);
    if (!waiting) return;
    waiting.loading = "eager";
    await waiting.decode().catch(() => {});
    idle(readAhead);
  }

  window.addEventListener("beforeprint", () => scenes.forEach((scene) => scene.querySelectorAll("img").forEach((image) => { image.loading = "eager"; })));

  /* -- the whole screen -- */

  /** What lies behind the whole screen is out of reach of keys and of what reads the page aloud. */
  function alone(only) {
    for (let one = root; one !== document.body; one = one.parentElement)
      for (const other of one.parentElement.children) if (other !== one) other.inert = only;
  }

  function mode(name) {
    state.mode = name;
    root.dataset.mode = name;
    part("where").setAttribute("aria-live", name === "page" ? "off" : "polite");
    root.querySelector("[data-told-steer]").hidden = name === "page";
    root.querySelector("[data-told-bar]").hidden = name !== "page";
    root.querySelector("[data-told-desk]").hidden = name !== "speaker";
    document.documentElement.toggleAttribute("data-telling", name !== "page");
    alone(name !== "page");
    show();
  }

  function leave() {
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    mode("page");
    clipOf(scenes[state.scene])?.pause();
    scenes[state.scene].scrollIntoView({ block: "start" });
    part("tell").focus();
  }

  function fill() {
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    else root.requestFullscreen?.().catch(() => {});
  }

  function words() {
    const shown = root.toggleAttribute("data-words");
    part("words").setAttribute("aria-pressed", String(shown));
  }

  /* -- the speaker's window -- */

  function openSpeaker() {
    peer = window.open(`${window.location.href.split(/[?#]/)[0]}?speaker#${scenes[state.scene].id}`, "briefgen-speaker", "width=900,height=700");
    if (state.mode === "page") mode("stage");
  }

  function tellSpeaker() {
    const planned = number(scenes[scenes.length - 1], "until");
    const now = scenes[state.scene];
    const gone = began === null ? 0 : (performance.now() - began) / 1000;
    // A scene may last until its own end; only what is beyond that is late.
    const late = gone - number(now, "until");
    part("clock").textContent = clock(gone);
    part("plan").textContent = planned ? `of ${clock(planned)} min; ${clock(planned - gone)} min left` : "";
    part("late").textContent = began !== null && late > 0 ? `${clock(late)} min late. ${shorten(late)}` : "";
    const next = scenes[state.scene + 1];
    part("next").textContent = next ? next.querySelector(".bg-scene__title").textContent : "the end";
  }

  /** The scenes ahead that can be cut short, until what is late is won back. */
  function shorten(late) {
    const ahead = scenes.slice(state.scene + 1).filter((scene) => scene.dataset.shorten)
      .sort((one, other) => number(one, "shorten") - number(other, "shorten"));
    const chosen = [];
    let won = 0;
    for (const scene of ahead) {
      if (won >= late) break;
      won += number(scene, "seconds");
      chosen.push(scene.querySelector(".bg-scene__title").textContent);
    }
    return chosen.length ? `Shorten first: ${chosen.join("; ")}.` : "No scene ahead can be shortened.";
  }

  window.addEventListener("message", (event) => {
    const told = event.data;
    if (!peer || event.source !== peer || !told || told.briefgen !== "scene") return;
    if (!Number.isInteger(told.scene) || !Number.isInteger(told.pin)) return;
    if (!speaking && state.mode === "page") mode("stage");
    if (speaking && began === null && (told.scene > 0 || told.pin >= 0)) began = performance.now();
    go(told.scene, told.pin, true);
  });

  /* -- hands -- */

  const acts = {
    ArrowRight: on, PageDown: on, " ": on, Enter: on, ArrowLeft: back, PageUp: back,
    Home: () => go(0), End: () => go(scenes.length - 1), f: fill, w: words, Escape: () => !speaking && leave(),
  };
  document.addEventListener("keydown", (event) => {
    if (state.mode === "page" || event.ctrlKey || event.metaKey || event.altKey || !acts[event.key]) return;
    if ((event.key === "Enter" || event.key === " ") && event.target.closest?.("button, a, video")) return;
    event.preventDefault();
    event.stopPropagation();
    acts[event.key]();
  }, true);

  let touched = null;
  root.addEventListener("touchstart", (event) => { touched = event.touches.length === 1 ? event.touches[0] : null; }, { passive: true });
  root.addEventListener("touchend", (event) => {
    if (state.mode === "page" || !touched) return;
    const end = event.changedTouches[0];
    const [across, down] = [end.clientX - touched.clientX, end.clientY - touched.clientY];
    touched = null;
    if (Math.abs(across) < 60 || Math.abs(across) < 2 * Math.abs(down)) return;
    if (across < 0) on(); else back();
  }, { passive: true });

  part("tell").addEventListener("click", () => { mode("stage"); part("on").focus(); });
  part("speaker").addEventListener("click", openSpeaker);
  part("on").addEventListener("click", on);
  part("back").addEventListener("click", back);
  part("words").addEventListener("click", words);
  part("leave").addEventListener("click", leave);
  part("leave").hidden = speaking;
  // Who speaks has the words before them anyway.
  part("words").hidden = speaking;
  window.addEventListener("hashchange", () => fromAddress());

  function fromAddress() {
    const place = scenes.findIndex((scene) => `#${scene.id}` === window.location.hash);
    if (place >= 0 && place !== state.scene) go(place);
  }

  scenes.forEach((scene, place) => clipOf(scene)?.addEventListener("play", () => {
    if (place === state.scene) state.pin = 0;
  }));
  fromAddress();
  if (speaking) {
    mode("speaker");
    setInterval(tellSpeaker, 500);
  } else mode("page");
  idle(readAhead);
  root.dataset.ready = "";
})();
