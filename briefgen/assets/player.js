/* Plays a sortie: people move over the map along the computed timeline. The map itself stays as it is (the still, or
   the live chart when it is there); people are a few elements of an SVG laid over it, so that a frame costs next to
   nothing. Where motion is to be reduced, it goes from moment to moment instead. */
(() => {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";
  // Where somebody's name may stand: right and down of their sign, near it or a little further off.
  const AROUND = [[0, -1], [0, 1], [1, 0], [-1, 0], [1, -1], [-1, -1], [1, 1], [-1, 1],
    [0.5, -1], [-0.5, -1], [0.5, 1], [-0.5, 1], [1, -0.5], [-1, -0.5], [1, 0.5], [-1, 0.5]];
  const SIDES = [0, 10, 20, 34, 50, 70, 95].flatMap((far) => AROUND.map(([right, down]) => [right, down, far]));
  const DISC = 9; // how far a person's sign reaches from the middle, in pixels of the sheet
  const inOneColumn = window.matchMedia("(max-width: 480px)");
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  function make(name, attributes = {}, ...inside) {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) if (value !== null) element.setAttribute(key, value);
    element.append(...inside.map((one) => (typeof one === "string" ? tied(one) : one)));
    return element;
  }

  /** A number and its unit stay in one line. */
  const tied = (words) => words.replace(/(\d) (?=(?:s|min|h|m|km|kg|g|W|N·m|V|A|turns?|steps?|items?|pieces?)\b)/g, "$1\u00a0");

  function draw(name, attributes = {}, ...inside) {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...inside);
    return element;
  }

  function elapsed(seconds) {
    const whole = Math.round(seconds);
    const two = (number) => String(number).padStart(2, "0");
    return `${Math.floor(whole / 3600)}:${two(Math.floor((whole % 3600) / 60))}:${two(whole % 60)}`;
  }

  function secondsOf(words) {
    const parts = /^(\d+):(\d{2})(?::(\d{2}))?$/.exec(words);
    return parts ? Number(parts[1]) * 3600 + Number(parts[2]) * 60 + Number(parts[3] || 0) : null;
  }

  /** Whom a call is for: nobody is told on their own panel to call themselves. */
  const called = (call) => call.slice(3, call.indexOf(":")).split(", ");

  /** The number of the last entry that begins at `time` or before. */
  function lastBefore(list, time, begin) {
    let low = 0;
    let high = list.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (begin(list[middle]) <= time + 1e-6) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  const hits = (a, b) => Math.max(0, Math.min(a[2], b[2]) - Math.max(a[0], b[0])) * Math.max(0, Math.min(a[3], b[3]) - Math.max(a[1], b[1]));
  const around = ([x, y], half, high = half) => [x - half, y - high, x + half, y + high];

  class Player {
    constructor(root) {
      this.root = root;
      this.data = JSON.parse(root.querySelector(".bg-player__data").textContent);
      this.part = {};
      for (const one of root.querySelectorAll("[data-play]:not([data-play='does'])")) this.part[one.dataset.play] = one;
      this.panels = [...root.querySelectorAll("[data-lane]")].map((panel) => panel.querySelector("[data-play='does']"));
      this.script = root.querySelector(".bg-player__script");
      this.screen = root.querySelector(".bg-player__screen");
      this.stage = root.querySelector(".bg-player__map .bg-chart__stage");
      this.figure = root.querySelector(".bg-player__map .bg-chart");
      this.time = 0;
      this.speed = Number(this.part.speed.value);
      this.playing = false;
      this.shown = this.data.people.map(() => -1);
      this.told = "";
      this.toldAt = 0;
      this.said = [];
      this.ruler = document.createElement("canvas").getContext("2d");
      this.frames = 0;
      this.overlay();
      this.listen();
      root.querySelector(".bg-player__live").hidden = false;
      root.querySelector(".bg-player__table").open = false;
      root.dataset.ready = "";
      this.calmness();
      this.measure();
      this.fromAddress(false);
      this.show();
    }

    /* -- the people over the map -- */

    overlay() {
      this.layer = draw("svg", { class: "bg-c bg-player__people", "aria-hidden": "true" });
      this.tokens = this.data.people.map((person, lane) => {
        if (!person.outside) return null;
        const mark = this.root.querySelector(`[data-lane="${lane}"] svg.bg-c > g`);
        const tether = draw("path", { class: "c-tether" });
        const ahead = draw("path", { class: "c-ahead" });
        const rest = draw("circle", { class: "c-hold-ring", r: 12.5 });
        const label = draw("text", { class: "c-who c-halo" });
        const sign = draw("g", { transform: `scale(${DISC / 11})` }, mark.cloneNode(true));
        const token = draw("g", { class: "c-person" }, rest, sign, label);
        this.layer.append(tether, ahead);
        return { token, tether, ahead, label, rest, side: 0 };
      });
      for (const own of this.tokens) if (own) this.layer.append(own.token);
      this.stage.append(this.layer);
    }

    /** Takes the size of the map as it is shown now, and its scale. */
    measure() {
      const narrow = this.stage.clientWidth < this.data.turnover && this.data.sheets.narrow;
      this.sheet = narrow ? this.data.sheets.narrow : this.data.sheets.wide;
      const [wide, high] = this.sheet.size;
      const live = window.briefgenCharts && window.briefgenCharts.of(this.figure);
      const [[x0, x1], [y1, y0]] = (live && live.range) || [[0, wide], [high, 0]];
      this.layer.setAttribute("viewBox", `${x0} ${y0} ${x1 - x0} ${y1 - y0}`);
      // No name is smaller than 11 pixels, however small the map.
      this.scale = (x1 - x0) / wide * Math.max(narrow ? 0.85 : 1, (11.1 * wide) / (13 * this.stage.clientWidth));
      // On a map that is zoomed in, words keep their size on the screen: on the sheet they shrink about their places.
      const zoomed = (x1 - x0) / wide;
      this.words = this.sheet.words.map(([l, t, r, b, x, y]) => [x + (l - x) * zoomed, y + (t - y) * zoomed, x + (r - x) * zoomed, y + (b - y) * zoomed]);
      this.dots = Object.values(this.sheet.points).map((point) => around(point, 7 * zoomed));
      this.view = [x0, y0, x1, y1];
      const look = getComputedStyle(this.root);
      this.ruler.font = `700 13px ${look.getPropertyValue("--bg-c-sans") || "sans-serif"}`;
    }

    /** Where somebody is on a span at a moment. */
    place(span, time) {
      const [, start, end, , track] = span;
      if (!track.length) return null;
      const points = this.sheet.points;
      if (track.length === 1) return points[track[0][1]];
      // Without motion somebody on the way is where they set off, until they are there.
      const at = lastBefore(track, calm.matches && time < end ? start : time, (one) => one[0]);
      const [from, to] = [track[at], track[Math.min(at + 1, track.length - 1)]];
      const [a, b] = [points[from[1]], points[to[1]]];
      if (!a || !b) return a || b || null;
      const share = to[0] > from[0] ? Math.min(1, Math.max(0, (time - from[0]) / (to[0] - from[0]))) : 1;
      const moved = calm.matches ? (time >= to[0] ? 1 : 0) : share;
      return [a[0] + (b[0] - a[0]) * moved, a[1] + (b[1] - a[1]) * moved];
    }

    move() {
      const spots = this.apart(this.tokens.map((own, lane) => own && this.place(this.spanOf(lane), this.time)));
      const taken = [...this.words, ...this.dots, ...spots.filter(Boolean).map((spot) => around(spot, 13 * this.scale))];
      this.tokens.forEach((own, lane) => {
        const spot = spots[lane];
        if (!own) return;
        own.token.style.display = own.tether.style.display = spot ? "" : "none";
        if (!spot) return;
        own.token.setAttribute("transform", `translate(${spot[0].toFixed(1)} ${spot[1].toFixed(1)}) scale(${this.scale.toFixed(3)})`);
        taken.push(this.letter(own, spot, taken));
        const anchor = this.sheet.points[this.spanOf(lane)[5]];
        own.tether.setAttribute("d", anchor ? `M${anchor[0]} ${anchor[1]}L${spot[0].toFixed(1)} ${spot[1].toFixed(1)}` : "");
      });
    }

    /** Puts somebody's name on the side where it covers least, and gives the area that it takes. */
    letter(own, spot, taken) {
      const k = this.scale;
      const [half, high] = [(own.wide / 2 + 1) * k, 7 * k];
      const beyond = (box) => (box[0] < this.view[0] || box[1] < this.view[1] || box[2] > this.view[2] || box[3] > this.view[3] ? 1e6 : 0);
      const middles = SIDES.map(([right, down, far]) => [
        right * (own.wide / 2 + 1 + (down ? 4 : 15) + far), down * (7 + (right ? 8 : 15) + far)]);
      const areas = middles.map(([x, y]) => around([spot[0] + x * k, spot[1] + y * k], half, high));
      const covers = areas.map((box) => beyond(box) + taken.reduce((sum, other) => sum + hits(box, other), 0));
      // Who moves keeps the side until something is covered there: names must not flicker.
      if (covers[own.side] > 0) {
        const costs = covers.map((cover, side) => cover + SIDES[side][2] * k * k);
        own.side = costs.indexOf(Math.min(...costs));
      }
      const [x, y] = middles[own.side];
      own.label.setAttribute("x", x.toFixed(1));
      own.label.setAttribute("y", (y + 4.5).toFixed(1));
      return areas[own.side];
    }

    /** People at one spot stand side by side, or one above the other where that covers fewer words. */
    apart(spots) {
      const near = 2 * (DISC + 1) * this.scale;
      for (let one = 0; one < spots.length; one += 1) {
        for (let other = one + 1; other < spots.length; other += 1) {
          const [a, b] = [spots[one], spots[other]];
          if (!a || !b) continue;
          const gap = near - Math.hypot(a[0] - b[0], a[1] - b[1]);
          if (gap <= 0) continue;
          const pairs = [[gap / 2, 0], [0, gap / 2]].map(([x, y]) => [[a[0] - x, a[1] - y], [b[0] + x, b[1] + y]]);
          const [across, down] = pairs.map((pair) => pair.reduce((sum, spot) => sum + this.covered(around(spot, DISC * this.scale)), 0));
          [spots[one], spots[other]] = pairs[Number(down < across)];
        }
      }
      return spots;
    }

    covered(box) { return this.words.reduce((sum, other) => sum + hits(box, other), 0); }

    /* -- what stands beside it -- */

    numberOf(lane) { return lastBefore(this.data.people[lane].spans, this.time, (span) => span[1]); }
    spanOf(lane) { return this.data.people[lane].spans[this.now ? this.now[lane] : this.numberOf(lane)]; }

    /** Everything for the moment `this.time`. Panels are written only when what they say has changed. */
    show() {
      let told = false;
      this.now = this.data.people.map((_, lane) => this.numberOf(lane));
      this.now.forEach((number, lane) => {
        if (number === this.shown[lane]) return;
        this.shown[lane] = number;
        this.tell(lane);
        told = true;
      });
      if (told) this.fit();
      this.move();
      this.say();
      this.tellScript();
      this.tellTime();
      const night = this.data.nights.some(([start, end]) => this.time >= start && this.time < end);
      if (this.night !== night) {
        this.night = night;
        if (this.data.nights.length) this.part.light.textContent = night ? "Night" : "Day";
        this.stage.toggleAttribute("data-night", night);
      }
    }

    /** The clock and what shows the time; while it plays, ten times a second are enough to be read. */
    tellTime() {
      const now = performance.now();
      if (this.playing && now - this.toldAt < 100) return;
      this.toldAt = now;
      this.part.clock.textContent = elapsed(this.time);
      this.part.cursor.style.left = `${((this.time / this.data.finish) * 100).toFixed(2)}%`;
      if (document.activeElement !== this.part.time || !this.playing) this.part.time.value = String(Math.round(this.time));
    }

    /** For who listens: what has begun for whom, once it has stood for a moment; while it plays, every few seconds. */
    say() {
      if (this.saying || this.now.every((number, lane) => number === this.said[lane])) return;
      this.saying = setTimeout(() => {
        this.saying = 0;
        const begun = this.data.people.map((person, lane) => [person, lane]).filter(([, lane]) => this.now[lane] !== this.said[lane]);
        this.said = [...this.now];
        const told = begun.map(([person, lane]) => `${person.label}: ${this.sentence(lane)}`);
        this.part.voice.textContent = [elapsed(this.time), ...told].join(". ");
      }, this.playing ? 3000 : 300);
    }

    sentence(lane) {
      const [kind, , , number, , , about] = this.spanOf(lane);
      const step = this.data.steps[number];
      if (kind === "done") return "done";
      if (kind === "wait" && step && step.holds.length) return `holds, ${step.holds.join(" ")}`;
      if (kind !== "step") return about || "stands by";
      const hazards = step.hazards.map((one) => this.data.hazards[one]).map((one) => `${one.signal}, ${one.hazard} ${one.avoid}`);
      return [...hazards, step.do, step.place].filter(Boolean).join(" ");
    }

    tell(lane) {
      const person = this.data.people[lane];
      const [kind, start, end, step, track, , about] = person.spans[this.shown[lane]];
      const panel = this.panels[lane];
      panel.parentElement.dataset.kind = kind;
      const leads = kind === "step" ? this.leader(lane, step) : null;
      panel.replaceChildren(...(leads ? this.shared(leads, step, end) : this.lines(person, kind, start, end, step, about)));
      const own = this.tokens[lane];
      if (!own) return;
      own.rest.style.display = kind === "wait" ? "" : "none";
      own.label.textContent = kind === "wait" ? `${person.label} holds` : person.label;
      own.wide = this.ruler.measureText(own.label.textContent).width;
      const points = track.map(([, name]) => this.sheet.points[name]).filter(Boolean);
      own.ahead.setAttribute("d", points.length > 1 ? `M${points.map(([x, y]) => `${x} ${y}`).join("L")}` : "");
    }

    /** Everybody's panel has what it needs; where windows are low, what is least needed is left out. */
    fit() {
      const panels = [...this.root.querySelectorAll(".bg-player__now > *")];
      const kept = panels.map((panel) => parseFloat(panel.style.height));
      for (const panel of panels) panel.style.height = "";
      this.tighten();
      if ("begun" in this.root.dataset && inOneColumn.matches) this.keepHeights(panels, kept);
    }

    tighten() {
      const parts = this.root.querySelectorAll(".bg-player__now, .bg-player__within");
      for (const part of parts) delete part.dataset.tight;
      const room = parseFloat(getComputedStyle(this.screen).minHeight);
      for (const tight of room ? [1, 2] : []) {
        for (const part of parts) {
          const high = this.screen.offsetHeight;
          if (high <= room + 1) return;
          const before = part.dataset.tight;
          part.dataset.tight = tight;
          if (this.screen.offsetHeight < high) continue;
          if (before) part.dataset.tight = before;
          else delete part.dataset.tight;
        }
      }
    }

    /** In one column each panel keeps its height until it needs more, or another needs what it has to spare. */
    keepHeights(panels, kept) {
      const needed = panels.map((panel) => panel.offsetHeight);
      const within = this.root.querySelector(".bg-player__within");
      const ends = [...within.children].map((panel) => panel.lastElementChild.getBoundingClientRect().bottom + 6);
      const free = Math.max(0, Math.floor(within.getBoundingClientRect().bottom - Math.max(...ends)));
      const spare = needed.map((high, k) => (kept[k] ? Math.max(0, kept[k] - high) : 0.15 * free));
      let over = spare.reduce((sum, one) => sum + one, 0) - free;
      for (const k of [...spare.keys()].sort((one, other) => spare[other] - spare[one])) {
        const less = Math.max(0, Math.min(over, spare[k]));
        spare[k] -= less;
        over -= less;
      }
      panels.forEach((panel, k) => { panel.style.height = `${Math.floor(needed[k] + spare[k])}px`; });
    }

    /** Who tells of a step that several people do together: the first of them. */
    leader(lane, step) {
      const first = this.data.people.findIndex((person, other) => {
        const [kind, , , number] = person.spans[this.now[other]];
        return kind === "step" && number === step;
      });
      return first < lane ? this.data.people[first] : null;
    }

    /** A step that stands in full in somebody else's panel. */
    shared(leads, number, end) {
      const step = this.data.steps[number];
      const signs = step.hazards.map((one) => this.data.hazards[one].signal).map((signal) =>
        make("span", { class: "bg-now__sign", "data-signal": signal }, signal[0].toUpperCase() + signal.slice(1)));
      return [
        make("p", { class: "bg-now__do" }, `With ${leads.label}: step ${step.n}`, ...signs.flatMap((sign) => [" ", sign])),
        make("p", { class: "bg-now__when" }, `Until ${elapsed(end)}`),
      ];
    }

    lines(person, kind, start, end, number, about) {
      const step = this.data.steps[number];
      const when = make("p", { class: "bg-now__when" }, `Until ${elapsed(end)}`);
      if (kind === "done") return [make("p", { class: "bg-now__do" }, `Done at ${elapsed(start)}.`)];
      if (kind !== "step") {
        const next = step ? [make("p", { class: "bg-now__next" }, "Next: ", this.link(step))] : [];
        const holds = kind === "wait" && step ? step.holds.map((hold) => this.hold(hold)) : [];
        const words = holds.length ? holds : [make("p", { class: "bg-now__do" }, about || "Stands by.")];
        return [...words, when, ...next];
      }
      const task = this.data.tasks[step.task];
      const facts = [`${task.title}, step ${step.n}`, step.place, `${step.takes}, until ${elapsed(end)}`];
      return [
        ...step.figures.slice(0, 1).map((figure) => this.picture(this.data.figures[figure])),
        ...step.hazards.map((hazard) => this.hazard(this.data.hazards[hazard])),
        make("p", { class: "bg-now__do" }, this.link(step)),
        make("p", { class: "bg-now__when" }, facts.filter(Boolean).join(" · ")),
        ...step.calls.filter((call) => !called(call).includes(person.label)).map((call) => make("p", { class: "bg-now__call" }, `Says ${call}`)),
      ];
    }

    link(step) { return step.href ? make("a", { href: step.href }, step.do) : make("span", {}, step.do); }

    hazard(one) {
      const word = one.signal[0].toUpperCase() + one.signal.slice(1);
      return make("div", { class: "bg-hazard", "data-signal": one.signal, role: "note", "aria-label": word },
        make("p", { class: "bg-hazard__signal" }, word),
        make("div", { class: "bg-hazard__text" }, make("p", { class: "bg-hazard__what" }, one.hazard),
          make("p", { class: "bg-hazard__avoid" }, one.avoid)));
    }

    hold(words) {
      return make("div", { class: "bg-hold", role: "note", "aria-label": "Hold" },
        make("p", { class: "bg-hold__word" }, "Hold"), make("p", { class: "bg-hold__text" }, words));
    }

    picture(one) {
      const image = make("img", { src: one.file, alt: one.alt, title: one.caption, loading: "lazy" });
      return make("figure", { class: "bg-now__figure" }, one.href ? make("a", { href: one.href }, image) : image);
    }

    /** The script of every task that somebody works on, those outside first. */
    tellScript() {
      const tasks = new Set();
      this.data.people.forEach((person, lane) => {
        const [kind, , , number] = this.spanOf(lane);
        const step = this.data.steps[number];
        if (step && (person.outside || kind === "step")) tasks.add(step.task);
      });
      const told = [...tasks].join(",");
      if (told === this.told) return;
      this.told = told;
      this.script.replaceChildren(...[...tasks].map((number) => {
        const task = this.data.tasks[number];
        const title = task.href ? make("a", { href: task.href }, task.title) : task.title;
        const words = task.script.length ? task.script : ["There is no script for this task."];
        return make("section", {}, make("p", { class: "bg-script__head" }, make("span", {}, "The briefer says: ", title)),
          ...words.map((part) => make("p", {}, part)));
      }));
    }

    /* -- time -- */

    play() {
      if (this.playing) return;
      if (this.time >= this.data.finish) this.time = 0;
      this.playing = true;
      this.begin();
      this.intoView();
      this.label();
      if (calm.matches) {
        this.timer = setInterval(() => this.toMoment(1), 1500);
        return;
      }
      let last = null;
      const frame = (stamp) => {
        if (!this.playing) return;
        // A tab that was out of sight must not leap.
        const passed = last === null ? 0 : Math.min(0.1, (stamp - last) / 1000);
        last = stamp;
        this.frames += 1;
        this.time = Math.min(this.data.finish, this.time + passed * this.speed);
        this.show();
        if (this.time >= this.data.finish) this.pause();
        else requestAnimationFrame(frame);
      };
      requestAnimationFrame(frame);
    }

    pause() {
      this.playing = false;
      clearInterval(this.timer);
      this.tellTime();
      this.label();
      this.settle();
    }

    label() {
      this.part.play.firstElementChild.textContent = this.playing ? "Pause" : "Play";
      this.root.toggleAttribute("data-playing", this.playing);
    }

    /** From now on it has the window for itself. */
    begin() {
      if ("begun" in this.root.dataset) return;
      this.root.dataset.begun = "";
      this.fit();
    }

    seek(time, keep = true) {
      this.begin();
      this.time = Math.min(this.data.finish, Math.max(0, time));
      this.show();
      if (keep && !this.playing) this.settle();
    }

    /** Writes the moment into the address, so that a copied address leads back to it. */
    settle() {
      const words = elapsed(this.time);
      this.part.time.setAttribute("aria-valuetext", `${words} of ${elapsed(this.data.finish)}`);
      this.part.here.setAttribute("href", `#t=${words}`);
      clearTimeout(this.writing);
      this.writing = setTimeout(() => {
        try { window.history.replaceState(null, "", `#t=${words}`); } catch { /* Some browsers forbid it in a folder. */ }
      }, 200);
    }

    toMoment(by) {
      const moments = this.data.moments;
      const at = lastBefore(moments, this.time, (one) => one);
      const within = this.time - moments[at] > 0.5;
      const next = by > 0 ? at + 1 : within ? at : at - 1;
      this.seek(moments[Math.min(moments.length - 1, Math.max(0, next))]);
      if (this.playing && this.time >= this.data.finish) this.pause();
    }

    fromAddress(keep = true) {
      const found = /(?:^#|&)t=([0-9:]+)/.exec(window.location.hash);
      const time = found && secondsOf(found[1]);
      if (time === null || time === undefined) return;
      this.pause();
      this.seek(time, keep);
      if (keep) this.intoView();
    }

    /** All of it on the screen; nothing moves where it is. */
    intoView() {
      const { top, bottom } = this.screen.getBoundingClientRect();
      if (top < 0 || bottom > window.innerHeight + 1) this.screen.scrollIntoView({ block: "start" });
    }

    calmness() { this.part.calm.hidden = !calm.matches; }

    /* -- controls -- */

    listen() {
      const part = this.part;
      part.play.addEventListener("click", () => (this.playing ? this.pause() : this.play()));
      part.back.addEventListener("click", () => this.toMoment(-1));
      part.on.addEventListener("click", () => this.toMoment(1));
      part.speed.addEventListener("change", () => { this.speed = Number(part.speed.value); });
      part.time.addEventListener("input", () => this.seek(Number(part.time.value)));
      this.root.addEventListener("keydown", (event) => this.key(event));
      window.addEventListener("hashchange", () => this.fromAddress());
      calm.addEventListener("change", () => { this.pause(); this.calmness(); this.show(); });
      this.figure.addEventListener("bg:scale", () => this.again());
      this.figure.addEventListener("bg:live", () => this.again());
      new ResizeObserver(() => this.again()).observe(this.stage);
    }

    again() {
      this.measure();
      this.shown.fill(-1);
      this.show();
    }

    key(event) {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      const own = event.target.closest("input, select, summary, .bg-table, .bg-chart__live");
      const pressed = event.target.closest("button, a");
      const acts = {
        ArrowLeft: () => this.seek(this.time - 30), ArrowRight: () => this.seek(this.time + 30),
        PageUp: () => this.toMoment(-1), PageDown: () => this.toMoment(1),
        Home: () => this.seek(0), End: () => this.seek(this.data.finish),
      };
      if (!pressed) acts[" "] = () => (this.playing ? this.pause() : this.play());
      if (own || !acts[event.key]) return;
      event.preventDefault();
      acts[event.key]();
    }
  }

  const players = new Map();
  for (const root of document.querySelectorAll("[data-player]")) players.set(root, new Player(root));
  window.briefgenPlayers = { of: (root) => players.get(root) };
})();
