/* Makes charts live: a still drawn at build time is replaced by the same chart from Plotly when a reader asks for it,
   by a button or by an address that names something in it. Until then neither the script nor the figure is read.
   EMBED.md says what a page holds. No eval, no inline handlers, nothing from outside. */
(() => {
  "use strict";

  const ASK = "Move about in it";
  const NARROW = 690;
  const LEAST = 330; // below, letters would be too small to read: the stage is scrolled sideways
  const TRACES = 2; // so many are drawn in one go while a chart becomes live
  const scripts = new Map();
  const charts = new Map();

  /* ---- the one script ---------------------------------------------------------------------------------- */

  function plotly(address) {
    if (window.Plotly) return Promise.resolve(window.Plotly);
    if (!scripts.has(address)) {
      scripts.set(address, new Promise((done, failed) => {
        const script = document.createElement("script");
        script.src = address;
        script.async = true;
        script.fetchPriority = "high";
        script.addEventListener("load", () => (window.Plotly ? done(window.Plotly) : failed(new Error("no Plotly"))));
        script.addEventListener("error", () => failed(new Error(`${address} did not load`)));
        document.head.append(script);
      }));
    }
    return scripts.get(address);
  }

  /* ---- figures: colours, lanes, turning, scaling -------------------------------------------------------- */

  const COLOUR = /^var\((--[a-z0-9-]+)\)$/;

  /** A deep copy in which colours by name have the values that the page gives them now. */
  function painted(value, look) {
    if (typeof value === "string") {
      const name = COLOUR.exec(value);
      return name ? look.getPropertyValue(name[1]).trim() || "#777" : value;
    }
    if (Array.isArray(value)) return value.map((one) => painted(one, look));
    if (value && typeof value === "object") {
      return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, painted(one, look)]));
    }
    return value;
  }

  const isObject = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);

  /** A figure with a change over it: objects key by key, lists of as many objects one by one, all else as a whole. */
  function changed(old, change) {
    if (isObject(change) && isObject(old)) {
      return { ...old, ...Object.fromEntries(Object.entries(change).map(([key, one]) => [key, changed(old[key], one)])) };
    }
    const alike = Array.isArray(change) && Array.isArray(old) && change.length === old.length;
    return alike && isObject(change[0]) ? change.map((one, k) => changed(old[k], one)) : change;
  }

  /** Keeps one lane only: what lies in others is left out, and its number becomes 0. Works on a copy. */
  function keepLane(figure, lane) {
    const stays = (y) => y !== null && Math.floor(y) === lane;
    figure.data = figure.data.filter((trace) => !trace.meta.spans);
    for (const trace of figure.data) {
      const keep = trace.type === "bar" ? trace.y.map(stays) : keptPieces(trace.y, stays);
      for (const key of ["x", "y", "base", "text", "ids", "customdata"]) {
        if (Array.isArray(trace[key])) trace[key] = trace[key].filter((_, k) => keep[k]);
      }
      filterMarker(trace.marker, keep);
      trace.y = trace.y.map((y) => (y === null ? y : y - lane));
    }
    const axis = figure.layout.yaxis;
    axis.range = [1, 0];
    axis.tickvals = [axis.tickvals[lane] - lane];
    axis.ticktext = [axis.ticktext[lane]];
    figure.layout.shapes = figure.layout.shapes.filter((shape) => shape.xref !== "paper");
  }

  /** Which points of a broken line stay: a piece stays whole or goes whole. */
  function keptPieces(ys, stays) {
    const keep = new Array(ys.length);
    let from = 0;
    for (let k = 0; k <= ys.length; k += 1) {
      if (k === ys.length || ys[k] === null) {
        const whole = ys.slice(from, k).every(stays);
        for (let j = from; j <= k && j < ys.length; j += 1) keep[j] = whole;
        from = k + 1;
      }
    }
    return keep;
  }

  function filterMarker(marker, keep) {
    if (!marker) return;
    for (const part of [marker, marker.pattern || {}]) {
      for (const key of ["color", "size", "symbol", "shape", "fgcolor"]) {
        if (Array.isArray(part[key])) part[key] = part[key].filter((_, k) => keep[k]);
      }
    }
  }

  const TURNED = { "triangle-up": "triangle-left", "triangle-down": "triangle-right", "|": "-" };

  /** Turns a timeline round, so that time runs down and lanes are columns. Works on a copy. */
  function turn(figure, tools) {
    for (const trace of figure.data) {
      const [begins, wide, otherBegins, otherWide] = tools.strips[trace.meta.strip];
      const across = trace.meta.spans
        ? trace.meta.spans.map(([first, last]) => (first + last) / 2 + otherBegins + otherWide / 2)
        : trace.y.map((y) => {
        if (y === null) return null;
        const lane = Math.floor(y);
        return lane + otherBegins + ((y - lane - begins) / wide) * otherWide;
      });
      trace.y = trace.x;
      trace.x = across;
      if (trace.type === "bar") {
        trace.orientation = "v";
        trace.width = trace.meta.spans ? trace.meta.spans.map(([first, last]) => last - first + otherWide) : otherWide;
        if (trace.marker.pattern) trace.marker.pattern.shape = turnedSymbols(trace.marker.pattern.shape);
      }
      if (trace.marker && trace.marker.symbol) trace.marker.symbol = turnedSymbols(trace.marker.symbol);
    }
    const layout = figure.layout;
    const time = layout.xaxis;
    layout.xaxis = { ...layout.yaxis, range: [...layout.yaxis.range].reverse(), side: "top" };
    layout.yaxis = { ...time, range: [...time.range].reverse(), side: "left", nticks: 16 };
    layout.shapes = layout.shapes.map(turnedShape);
  }

  function turnedSymbols(symbols) {
    return Array.isArray(symbols) ? symbols.map((one) => TURNED[one] || one) : TURNED[symbols] || symbols;
  }

  function turnedShape(shape) {
    const { x0, x1, y0, y1, xref, yref, ...rest } = shape;
    const turned = { ...rest, x0: y0, x1: y1, y0: x0, y1: x1 };
    if (yref) turned.xref = yref;
    if (xref) turned.yref = xref;
    // Turned, a night has no corner that is free of tasks' names: the key says what its ground is.
    if (turned.name === "night") delete turned.label;
    if (turned.label) {
      const spot = turned.label.textposition === "top center" ? "top left" : "top right";
      turned.label = { ...turned.label, textposition: spot };
    }
    return turned;
  }

  const ruler = document.createElement("canvas").getContext("2d");
  const long = (text) => ruler.measureText(text).width;

  /** Words in at most so many lines, each within a width in pixels; nothing where they would have to be cut. */
  function whole(words, room, most) {
    const lines = [];
    for (const word of words.split(" ")) {
      const longer = lines.length ? `${lines[lines.length - 1]} ${word}` : word;
      if (lines.length && long(longer) <= room) lines[lines.length - 1] = longer;
      else lines.push(word);
    }
    return lines.length <= most && lines.every((line) => long(line) <= room) ? lines.map(escaped).join("<br>") : "";
  }

  /** Cuts the words on bars to the room that they have at this scale. Works on a copy. */
  function fitWords(figure, turned, plot) {
    const axis = turned ? figure.layout.yaxis : figure.layout.xaxis;
    const scale = (turned ? plot.high : plot.wide) / Math.abs(stampOf(axis.range[1]) - stampOf(axis.range[0]));
    const lane = (turned ? plot.wide : plot.high) / figure.layout[turned ? "xaxis" : "yaxis"].tickvals.length;
    for (const trace of figure.data) {
      if (trace.type !== "bar" || !trace.text) continue;
      const title = trace.meta.strip === "title";
      const size = trace.insidetextfont.size;
      ruler.font = `${title ? 700 : 400} ${size}px ${figure.layout.font.family}`;
      const along = turned ? trace.y : trace.x;
      trace.text = trace.text.map((text, k) => {
        // A task's name may go on up to the next one in the lane.
        const span = (title ? trace.customdata[k][4] - trace.base[k] : along[k]) * scale;
        const [room, high] = turned ? [lane * trace.width - 5, span] : [span - 5, lane * trace.width + 2];
        const words = turned && !title ? "" : whole(plain(text), room, Math.floor(high / (size * 1.3)));
        const shown = words || (title && high >= size ? whole(trace.customdata[k][3], room + 3, 1) : "");
        return title && shown ? `<b>${shown}</b>` : shown;
      });
    }
  }

  /** Letters and markers of a chart with fixed proportions grow and shrink with it. Works on a copy. */
  function scale(figure, factor) {
    const grow = (owner, key) => {
      if (!owner || owner[key] === undefined) return;
      owner[key] = Array.isArray(owner[key]) ? owner[key].map((one) => one * factor) : owner[key] * factor;
    };
    for (const trace of figure.data) {
      grow(trace.textfont, "size");
      grow(trace.marker, "size");
      grow(trace.line, "width");
    }
    grow(figure.layout.font, "size");
    for (const note of figure.layout.annotations || []) grow(note.font, "size");
  }

  const stampOf = (value) => (typeof value === "number" ? value : Date.parse(`${String(value).replace(" ", "T")}Z`));
  const plain = (markup) => String(markup).replace(/<[^>]*>/g, "")
    .replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&amp;/g, "&");
  const escaped = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
  const spoken = (markup) => plain(String(markup).replace(/^(<br>)+/, "").replace(/<br>/g, ", "));

  function make(name, attributes = {}, ...inside) {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...inside);
    return element;
  }

  /** The page's other work comes first. */
  const breath = () => new Promise((done) => { setTimeout(done); });

  /* ---- one chart ---------------------------------------------------------------------------------------- */

  class Live {
    constructor(root) {
      this.root = root;
      this.stage = root.querySelector(".bg-chart__stage");
      this.box = root.querySelector(".bg-chart__live");
      this.bar = root.querySelector(".bg-chart__tools");
      this.figure = null;
      this.tools = {};
      this.lane = null;
      this.more = false;
      this.range = null;
      this.chosen = -1;
      this.ready = null;
      this.offer();
    }

    /** The one button that stands by a still: it asks for the live chart, and takes it away again. */
    offer() {
      this.asking = make("button", { type: "button", class: "bg-button bg-chart__ask", "aria-pressed": "false" }, ASK);
      this.asking.addEventListener("click", () => this.answer());
      this.voice = make("p", { class: "bg-chart__voice", role: "status" });
      this.stage.append(this.voice);
      this.bar.append(this.asking);
      this.bar.hidden = false;
    }

    async answer() {
      if (this.root.dataset.state === "live") { this.rest(); return; }
      const first = this.ready === null;
      if (first) this.voice.textContent = "The chart is being made.";
      await this.wake();
      if (!first && this.root.dataset.state === "still") this.resume();
      this.voice.textContent = this.root.dataset.state === "live"
        ? "The chart can be moved about in now." : "The chart could not be made: the drawing stays.";
      if (this.root.dataset.state === "live") this.box.focus({ preventScroll: true });
    }

    /** Back to the still. */
    rest() {
      this.state("still");
      this.box.hidden = true;
      this.range = null;
      this.voice.textContent = "The drawing stands here again.";
      this.root.dispatchEvent(new CustomEvent("bg:scale"));
    }

    resume() {
      this.box.hidden = false;
      this.state("live");
      this.redraw();
    }

    state(name) {
      this.root.dataset.state = name;
      this.asking.setAttribute("aria-pressed", String(name === "live"));
      this.asking.disabled = name === "failed";
      for (const other of this.bar.children) if (other !== this.asking) other.hidden = name !== "live";
    }

    /** Draws the live chart, once. The promise says when it is there (or that it never will be). */
    wake() {
      if (!this.ready) {
        this.figure = JSON.parse(this.root.querySelector(".bg-chart__data").textContent);
        this.tools = this.figure.tools || {};
        this.state("loading");
        this.ready = plotly(this.root.dataset.plotly).then((library) => this.begin(library)).catch(() => {
          this.state("failed");
          this.box.hidden = true;
        });
      }
      return this.ready;
    }

    async begin(library) {
      this.library = library;
      this.box.hidden = false;
      await this.drawInPieces(library);
      this.box.on("plotly_click", (event) => this.open(event.points[0], event.event));
      this.box.on("plotly_relayout", (change) => this.noteRange(change));
      this.box.on("plotly_hover", () => { this.box.style.cursor = "pointer"; });
      this.box.on("plotly_unhover", () => { this.box.style.cursor = ""; });
      await breath();
      const held = this.stage.contains(document.activeElement) && document.activeElement !== this.box;
      this.reachable();
      this.fillBar();
      this.state("live");
      if (held) this.box.focus({ preventScroll: true });
      this.watchSize();
      this.root.dispatchEvent(new CustomEvent("bg:live", { bubbles: true }));
    }

    /** Draws the chart piece by piece, so that the page answers in between: an empty one, its axes, then trace by trace. */
    async drawInPieces(library) {
      await breath();
      const [data, layout, config] = this.drawing();
      const { width, height } = layout;
      await library.newPlot(this.box, [], { width, height }, config);
      for (let drawn = 0; drawn <= data.length; drawn = drawn < data.length ? Math.min(drawn + TRACES, data.length) : Infinity) {
        await breath();
        await library.react(this.box, data.slice(0, drawn), layout, config);
      }
    }

    get narrow() { return this.stage.clientWidth < (this.tools.turnover || NARROW) && Boolean(this.tools.narrow); }
    get turned() { return this.narrow && Boolean(this.tools.turns); }
    get timeAxis() { return this.turned ? "yaxis" : "xaxis"; }

    /** Data, layout and config for the size, colours, lane and stretch of time of this moment. */
    drawing() {
      const look = getComputedStyle(this.root);
      const narrow = this.narrow ? this.tools.narrow : {};
      const { data, layout, config } = painted({ ...changed(this.figure, narrow.change || {}), ...(narrow.figure || {}) }, look);
      const figure = { data, layout };
      figure.data = figure.data.filter((trace) => !trace.meta.more || (this.more && !this.turned));
      if (this.lane !== null) keepLane(figure, this.lane);
      if (this.turned) turn(figure, this.tools);
      Object.assign(figure.layout, painted(narrow.layout || {}, look));
      const [wide, high] = this.size(narrow);
      const fit = narrow.fit || this.tools.fit;
      if (fit) scale(figure, wide / fit[0]);
      Object.assign(figure.layout, { width: wide, height: high, autosize: false, ...this.drag() });
      if (this.range && !fit) figure.layout[this.timeAxis].range = this.turned ? [...this.range].reverse() : this.range;
      if (this.range && fit) [figure.layout.xaxis.range, figure.layout.yaxis.range] = this.range;
      if (this.tools.strips) {
        const { l, r, t, b } = figure.layout.margin;
        fitWords(figure, this.turned, { wide: wide - l - r, high: high - t - b });
      }
      this.box.style.width = `${wide}px`;
      this.box.style.height = `${high}px`;
      return [figure.data, figure.layout, config];
    }

    /** As wide as the stage; as high as the still that it replaces, so that nothing jumps. */
    size(narrow) {
      const fit = narrow.fit || this.tools.fit;
      const most = narrow.most || this.tools.most || Infinity;
      const wide = Math.min(Math.max(this.stage.clientWidth, LEAST), most);
      if (fit) return [wide, (wide * fit[1]) / fit[0]];
      const [across, down] = narrow.size || this.tools.size;
      const high = (down * Math.min(wide, narrow.size ? 560 : Infinity)) / across;
      return [wide, this.lane === null || this.turned ? high : Math.min(high, 260)];
    }

    /** A finger scrolls the page, a mouse marks the stretch to zoom to. */
    drag() {
      const fine = window.matchMedia("(pointer: fine)").matches && !this.turned;
      return { dragmode: fine ? this.tools.drag || "zoom" : false };
    }

    redraw() {
      if (this.root.dataset.state === "live") this.library.react(this.box, ...this.drawing());
    }

    watchSize() {
      let wide = this.stage.clientWidth;
      let waiting = 0;
      new ResizeObserver(() => {
        if (this.stage.clientWidth === wide || this.stage.clientWidth === 0) return;
        if (this.tools.fit) this.range = null;
        wide = this.stage.clientWidth;
        clearTimeout(waiting);
        waiting = setTimeout(() => this.redraw(), 120);
      }).observe(this.stage);
    }

    /* -- going to a step, and walking along the steps by keyboard -- */

    open(point, event) {
      const href = point && point.customdata && point.customdata[0];
      if (!href) return;
      if (event && (event.ctrlKey || event.metaKey)) window.open(href, "_blank", "noopener");
      else window.location.assign(href);
    }

    reachable() {
      this.box.tabIndex = 0;
      this.box.setAttribute("role", "application");
      const name = this.root.getAttribute("aria-label") || this.root.querySelector("figcaption").textContent;
      const walks = this.figure.data.some((trace) => trace.meta && trace.meta.steps);
      this.box.setAttribute("aria-label", `${name}. ` +
        (walks ? "Arrow keys go from one to the next, Enter opens it, plus" : "Plus") + " and minus change the scale, 0 shows all.");
      if (document.getElementById(`${this.root.id}-lead`)) this.box.setAttribute("aria-describedby", `${this.root.id}-lead`);
      this.box.addEventListener("keydown", (event) => this.key(event));
      this.box.addEventListener("blur", () => this.library.Fx.unhover(this.box));
    }

    key(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const [back, on, over, under] = this.turned
        ? ["ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight"]
        : ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];
      const acts = {
        [back]: () => this.walk(-1), [on]: () => this.walk(1),
        [over]: () => this.change(-1), [under]: () => this.change(1),
        Enter: () => this.open(this.points()[this.chosen], null),
        "+": () => this.zoom(0.5), "-": () => this.zoom(2), "0": () => this.show(null),
        Escape: () => this.choose(-1),
      };
      if (!acts[event.key]) return;
      event.preventDefault();
      acts[event.key]();
    }

    /** Every point that can be opened, lane by lane in the order of time. */
    points() {
      const found = [];
      this.box.data.forEach((trace, curveNumber) => {
        if (!trace.meta || !trace.meta.steps) return;
        (trace.ids || trace.x).forEach((_, pointNumber) => {
          const across = this.turned ? trace.x : trace.y;
          const along = trace.base || (this.turned ? trace.y : trace.x);
          found.push({ curveNumber, pointNumber, customdata: trace.customdata[pointNumber],
            id: trace.ids && trace.ids[pointNumber], across: across[pointNumber], lane: Math.floor(across[pointNumber]),
            start: along[pointNumber], end: along[pointNumber] + (this.turned ? trace.y : trace.x)[pointNumber] });
        });
      });
      if (this.tools.people) found.sort((a, b) => a.lane - b.lane || a.start - b.start);
      return found;
    }

    walk(by) {
      const all = this.points();
      if (all.length) this.choose((this.chosen + by + all.length + (this.chosen < 0 && by < 0 ? 1 : 0)) % all.length);
    }

    /** To the step in the next lane that runs at the same time, or to the next point where there are no lanes. */
    change(by) {
      const all = this.points();
      const now = all[this.chosen];
      if (!this.tools.people || !now) return this.walk(by);
      const lanes = [...new Set(all.map((point) => point.lane))];
      const lane = lanes[(lanes.indexOf(now.lane) + by + lanes.length) % lanes.length];
      const near = all.map((point, k) => [point.lane === lane ? Math.abs(point.start - now.start) : Infinity, k]);
      return this.choose(near.reduce((best, one) => (one[0] < best[0] ? one : best))[1]);
    }

    choose(number) {
      this.chosen = number;
      const point = this.points()[number];
      if (!point) {
        this.library.Fx.unhover(this.box);
        return;
      }
      this.bringIntoView(point);
      this.library.Fx.hover(this.box, [{ curveNumber: point.curveNumber, pointNumber: point.pointNumber }]);
      this.voice.textContent = point.customdata.slice(1).filter(Boolean).map(spoken).join("; ");
    }

    bringIntoView(point) {
      if (!this.range || this.tools.fit) return;
      const [from, to] = this.range;
      if (point.start >= from && point.end <= to) return;
      const half = (to - from) / 2;
      this.show([(point.start + point.end) / 2 - half, (point.start + point.end) / 2 + half]);
    }

    /** Shows the step that an address names: `#timeline-sortie-1.swap-pump.close-valves`. */
    async find(id) {
      await this.wake();
      if (this.root.dataset.state === "still") this.resume();
      if (this.root.dataset.state !== "live") return;
      const number = this.points().findIndex((point) => point.id === id);
      if (number < 0) return;
      const point = this.points()[number];
      if (!this.tools.fit) this.show([point.start - 15 * 60000, point.end + 15 * 60000]);
      this.root.scrollIntoView({ block: "nearest" });
      this.box.focus({ preventScroll: true });
      this.choose(number);
    }

    /* -- the scale -- */

    get whole() { return this.figure.layout.xaxis.range; }

    /** What a mouse has zoomed to. A redraw fits the words to the new scale. */
    noteRange(change) {
      if (!Object.keys(change).some((key) => key.includes("axis"))) return;
      const layout = this.box.layout;
      if (this.tools.fit) {
        this.range = [[...layout.xaxis.range], [...layout.yaxis.range]];
        this.root.dispatchEvent(new CustomEvent("bg:scale"));
        return;
      }
      const [from, to] = layout[this.timeAxis].range.map(stampOf).sort((a, b) => a - b);
      const all = this.whole;
      this.range = from <= all[0] && to >= all[1] ? null : [from, to];
      this.redraw();
    }

    show(range) {
      const all = this.whole;
      let next = range;
      if (next && !this.tools.fit) {
        const long = Math.min(Math.max(next[1] - next[0], 60000), all[1] - all[0]);
        const from = Math.min(Math.max(next[0], all[0]), all[1] - long);
        next = long >= all[1] - all[0] ? null : [from, from + long];
      }
      this.range = next;
      this.redraw();
      this.root.dispatchEvent(new CustomEvent("bg:scale"));
    }

    zoom(factor) {
      if (this.tools.fit) { this.zoomMap(factor); return; }
      const [from, to] = this.range || this.whole;
      const point = this.points()[this.chosen];
      const middle = point ? (point.start + point.end) / 2 : (from + to) / 2;
      const half = ((to - from) / 2) * factor;
      this.show([middle - half, middle + half]);
    }

    /** A map: about the chosen place, or the middle of what is shown; never beyond its edges. */
    zoomMap(factor) {
      if (!this.tools.zoom) return;
      const [wide, high] = (this.narrow && this.tools.narrow.fit) || this.tools.fit;
      const [[x0, x1], [y1, y0]] = this.range || [[0, wide], [high, 0]];
      const point = this.points()[this.chosen];
      const [cx, cy] = point ? [point.start, point.across] : [(x0 + x1) / 2, (y0 + y1) / 2];
      const share = Math.min(1, ((x1 - x0) * factor) / wide);
      const from = (middle, all) => Math.min(Math.max(middle - (all * share) / 2, 0), all * (1 - share));
      const [left, top] = [from(cx, wide), from(cy, high)];
      this.show(share >= 1 ? null : [[left, left + wide * share], [top + high * share, top]]);
    }

    /* -- the controls -- */

    fillBar() {
      const people = this.tools.people || [];
      if (people.length > 1) {
        const buttons = [[null, "Everyone"], ...people].map(([lane, label]) => {
          const button = make("button", { type: "button", class: "bg-button", "aria-pressed": String(lane === null) }, label);
          button.addEventListener("click", () => this.keep(lane, button));
          return button;
        });
        this.people = make("div", { class: "bg-chart__people", role: "group", "aria-label": "Show" }, ...buttons);
        this.bar.append(this.people);
      }
      const tasks = this.tools.tasks || [];
      if (tasks.length) {
        const select = make("select", { class: "bg-select" }, make("option", { value: "" }, "Whole sortie"),
          ...tasks.map(([label], k) => make("option", { value: String(k) }, label)));
        select.addEventListener("change", () => this.toTask(tasks[Number(select.value)], select.value === ""));
        this.taskList = select;
        this.bar.append(make("label", { class: "bg-field" }, make("span", {}, "Zoom to"), select));
      }
      if (this.tools.more) {
        const more = make("button", { type: "button", class: "bg-button bg-chart__more", "aria-pressed": "false" }, this.tools.more);
        more.addEventListener("click", () => this.showMore(more));
        this.bar.append(more);
      }
      const zooms = people.length > 1 || tasks.length || this.tools.zoom;
      for (const [label, sign, factor] of zooms ? [["Closer", "+", 0.5], ["Wider", "−", 2]] : []) {
        const button = make("button", { type: "button", class: "bg-button bg-chart__scale", "aria-label": label, title: label }, sign);
        button.addEventListener("click", () => this.wake().then(() => this.zoom(factor)));
        this.bar.append(button);
      }
    }

    /** What few look for is drawn when asked for. */
    async showMore(button) {
      this.more = !this.more;
      button.setAttribute("aria-pressed", String(this.more));
      await this.wake();
      this.redraw();
    }

    async keep(lane, button) {
      for (const other of this.people.children) other.setAttribute("aria-pressed", String(other === button));
      this.lane = lane;
      this.chosen = -1;
      await this.wake();
      this.redraw();
    }

    async toTask(task, whole) {
      await this.wake();
      if (whole) { this.show(null); return; }
      const room = Math.max(60000, (task[2] - task[1]) * 0.04);
      this.show([task[1] - room, task[2] + room]);
    }
  }

  /* ---- all charts of a page ------------------------------------------------------------------------------ */

  function start() {
    for (const root of document.querySelectorAll(".bg-chart[data-plotly]")) {
      if (!charts.has(root)) charts.set(root, new Live(root));
    }
    fromAddress();
  }

  function fromAddress() {
    const [chart, ...rest] = decodeURIComponent(window.location.hash.slice(1)).split(".");
    const root = rest.length ? document.getElementById(chart) : null;
    if (root && charts.has(root)) charts.get(root).find(rest.join("."));
  }

  function repaint() {
    for (const live of charts.values()) live.redraw();
  }

  document.addEventListener("bg:palette", repaint);
  new MutationObserver(repaint).observe(document.body, { attributes: true, attributeFilter: ["data-md-color-scheme"] });
  window.addEventListener("hashchange", fromAddress);
  window.briefgenCharts = { of: (root) => charts.get(root), start };
  start();
})();
