/* Clips: their captions, from the page itself, and the callouts that are lit while they play. Without this script the
   browser's player and the transcript are there. Nothing is played before somebody asks for it. */
(() => {
  const escaped = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

  /** A page in a folder may load no captions, so the cues that stand in it take the place of their file. */
  function caption(video) {
    video.querySelectorAll("track").forEach((track) => track.remove());
    const track = video.addTextTrack("captions", "Captions", document.documentElement.lang || "en");
    for (const [start, end, text] of JSON.parse(video.dataset.cues || "[]")) {
      track.addCue(new VTTCue(start, end, escaped(text)));
    }
    track.mode = "showing";
  }

  function ready(video) {
    video.dataset.ready = "";
    caption(video);
    const figure = video.closest("figure"), list = figure.nextElementSibling;
    const within = [figure, ...(list?.matches(".bg-callouts") ? [list] : [])];
    const parts = within.flatMap((one) => [...one.querySelectorAll("[data-from]")]).map((one) => ({
      one, from: Number(one.dataset.from), until: Number(one.dataset.until ?? Infinity), pin: one.matches(".bg-pin, .bg-scene__pin"),
    }));
    let frame = 0;

    function light(moment = video.currentTime) {
      for (const { one, from, until, pin } of parts) {
        const lit = moment >= from && moment < until;
        one.toggleAttribute("data-lit", lit);
        one.toggleAttribute("data-told", lit);
        if (pin) one.hidden = !lit;
      }
    }
    function follow() {
      light();
      cancelAnimationFrame(frame);
      if (!video.paused) frame = requestAnimationFrame(follow);
    }
    for (const name of ["play", "pause", "seeked", "seeking", "timeupdate", "ended"]) video.addEventListener(name, follow);
    // Who asks for a callout is shown the moment at which it lights up.
    document.addEventListener("click", (event) => {
      const asked = event.target.closest?.('a[href^="#"]')?.getAttribute("href").slice(1);
      const found = asked && parts.find(({ one, pin }) => pin && one.id === asked);
      if (!found) return;
      video.pause();
      video.currentTime = found.from;
      light(found.from);
    });
    light();
  }

  document.querySelectorAll("video[data-clip]:not([data-ready])").forEach(ready);
})();
