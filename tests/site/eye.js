/* What hurts the eye on a page as it stands, each as [kind, words]. `eye.py` says what the kinds are, and what is exempt. */
({ tiny, target }) => {
  const faults = [];
  const say = (kind, words) => faults.push([kind, words.replace(/\s+/g, " ").trim().slice(0, 150)]);
  const memo = (ask) => {
    const known = new Map();
    return (element) => {
      if (!known.has(element)) known.set(element, ask(element));
      return known.get(element);
    };
  };
  const wide = document.documentElement.clientWidth;
  const style = memo((element) => getComputedStyle(element));
  const place = memo((element) => element.getBoundingClientRect());
  const name = (element) => {
    const words = element.getAttribute("class") || element.id;
    return element.tagName.toLowerCase() + (words ? `.${words.trim().split(/\s+/)[0]}` : "");
  };

  /* ---- what is seen at all ---- */
  const SILENT = new Set(["script", "style", "noscript", "title", "desc", "option", "template"]);
  const forListeners = (element) => {
    const { clip, clipPath, overflowX } = style(element), box = place(element);
    return clip === "rect(0px, 0px, 0px, 0px)" || clipPath.startsWith("inset(50%") ||
      (box.width <= 2 && box.height <= 2 && overflowX !== "visible");
  };
  const unseen = memo((element) => {
    if (element === document.documentElement) return false;
    const { display, visibility, opacity } = style(element);
    if (SILENT.has(element.tagName.toLowerCase()) || display === "none" || opacity === "0") return true;
    if (visibility !== "visible" && element.childElementCount === 0) return true;
    return (element !== document.body && forListeners(element)) || unseen(element.parentElement);
  });
  const seen = (element) => !unseen(element) && style(element).visibility === "visible" &&
    element.checkVisibility({ contentVisibilityAuto: true }) && !aside(element);
  /* A drawer that waits beside the window. */
  const aside = memo((element) => {
    if (!element || element === document.body) return false;
    const box = place(element);
    if (style(element).position === "fixed" && (box.right <= 0 || box.left >= wide)) return true;
    return aside(element.parentElement);
  });
  /* What stays while the page moves under it lies over something at any moment. */
  const floats = memo((element) => Boolean(element) && element !== document.documentElement &&
    (/fixed|sticky/.test(style(element).position) || floats(element.parentElement)));

  /* ---- boxes that hide or scroll what is in them, from the inside out ---- */
  const scrolls = memo((element) => /auto|scroll/.test(style(element).overflowX + style(element).overflowY));
  const cuts = memo((element) => scrolls(element) || /hidden|clip/.test(style(element).overflowX + style(element).overflowY));
  const joined = (element, rest) => (cuts(element) ? [element, ...rest] : rest);
  const holders = memo((element) => (!element || element === document.body ? [] : joined(element, holders(element.parentElement))));
  /* The same up to the first that scrolls, or that stays while the page moves. */
  const nearest = memo((element) => {
    if (!element || element === document.body || element === document.documentElement) return [];
    const last = scrolls(element) || style(element).position === "fixed";
    return joined(element, last ? [] : nearest(element.parentElement));
  });

  /* ---- pieces of text: a line of a text node ---- */
  const pieces = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  for (let node; (node = walker.nextNode());) {
    const element = node.parentElement;
    if (!node.data.trim() || !seen(element)) continue;
    const drawn = element.closest("svg");
    lookAtSize(node, element, drawn);
    const [first] = node.data.match(/\S/).index === 0 ? [0] : [node.data.match(/\S/).index];
    range.setStart(node, first);
    range.setEnd(node, node.data.trimEnd().length);
    const lines = [...range.getClientRects()], tops = lines.map((box) => box.top);
    // In one line no word is broken.
    if (!drawn && Math.max(...tops) - Math.min(...tops) > 4) lookAtWords(node, element);
    for (const box of lines) {
      if (box.width < 1 || box.height < 1) continue;
      lookAtEdges(box, node, element);
      const left = within(box, element);
      if (left) pieces.push({ ...left, wide: box.width, element, text: node.data.trim() });
    }
  }

  /* What the boxes that hide or scroll leave of a box; nothing, where it lies wholly beyond one of their edges. */
  function within(box, element) {
    let { left, right, top, bottom } = box;
    for (const holder of holders(element)) {
      const edge = place(holder);
      [left, right] = [Math.max(left, edge.left), Math.min(right, edge.right)];
      [top, bottom] = [Math.max(top, edge.top), Math.min(bottom, edge.bottom)];
    }
    return right - left > 1 && bottom - top > 1 ? { left, right, top, bottom } : null;
  }

  function lookAtSize(node, element, drawn) {
    const scale = drawn ? Math.hypot(element.getScreenCTM().a, element.getScreenCTM().b) : 1;
    const size = parseFloat(style(element).fontSize) * scale;
    if (size > 0 && size < tiny - 0.05) say("tiny", `${size.toFixed(1)} px: ${node.data}`);
  }

  function lookAtWords(node, element) {
    for (const found of node.data.matchAll(/[\p{L}\p{N}]{2,}/gu)) {
      range.setStart(node, found.index);
      range.setEnd(node, found.index + found[0].length);
      const tops = [...range.getClientRects()].filter((box) => box.width > 0.5).map((box) => box.top);
      if (node.data[found.index - 1] === "\u00ad" && tops.length > 1) tops.shift(); // the hyphen that is drawn there
      if (tops.length > 1 && Math.max(...tops) - Math.min(...tops) > 4) {
        say("broken word", `${found[0]} in ${name(element)}: ${node.data}`);
      }
    }
  }

  function lookAtEdges(box, node, element) {
    for (const holder of nearest(element)) {
      const edge = place(holder);
      if (scrolls(holder)) return lookAtScroller(box, node, holder, edge);
      if (style(holder).display !== "inline" || holder.tagName.toLowerCase() === "svg") {
        const over = Math.max(box.right - edge.right, edge.left - box.left) > 2;
        const under = (box.bottom - edge.bottom > 0.3 * box.height) || (edge.top - box.top > 0.3 * box.height);
        if (over || under) return say("clipped", `${node.data} by ${name(holder)}`);
      }
    }
    if (box.right > wide + 1 || box.left < -1) say("clipped", `${node.data} by the window`);
  }

  /* Text beyond the edge of a box that scrolls is reached, where the box itself is reached by keyboard. */
  function lookAtScroller(box, node, holder, edge) {
    const beyond = box.right > edge.right + 2 || box.bottom > edge.bottom + 2;
    const reached = holder.tabIndex >= 0 || holder.querySelector("a[href], button, input, select, textarea, [tabindex]");
    if (beyond && !reached) say("clipped", `${node.data} by ${name(holder)}, which no key scrolls`);
  }

  /* ---- things over each other ---- */
  const left = (element) => within(place(element), element);
  const CONTROLS = "button, input, select, textarea, [role=button]";
  const controls = [...document.querySelectorAll(CONTROLS)].filter((one) => seen(one) && place(one).width > 2 && left(one))
    .map((element) => ({ ...left(element), element, text: element.innerText || element.ariaLabel || name(element) }));
  const things = [...pieces, ...controls].sort((one, other) => one.top - other.top);
  const told = new Set();
  for (let first = 0; first < things.length; first++) {
    const one = things[first];
    for (let second = first + 1; second < things.length && things[second].top < one.bottom - 2; second++) {
      const other = things[second];
      if (one.element === other.element || one.element.contains(other.element) || other.element.contains(one.element)) continue;
      const across = Math.min(one.right, other.right) - Math.max(one.left, other.left);
      if (across <= 2 || floats(one.element) || floats(other.element)) continue;
      const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
      if (down <= 0.4 * Math.min(one.bottom - one.top, other.bottom - other.top)) continue;
      const words = `${one.text.slice(0, 60)} | ${other.text.slice(0, 60)}`;
      if (!told.has(words)) say("overlap", words);
      told.add(words);
    }
  }

  /* ---- running text in a column too narrow for it ---- */
  const RUNNING = "p, li, dd, dt, td, th, h1, h2, h3, h4, summary, figcaption, caption, label";
  const block = memo((element) => (style(element).display === "inline" ? block(element.parentElement) : element));
  const blocks = new Map();
  for (const piece of pieces) {
    const holder = block(piece.element);
    if (holder.matches(RUNNING) && !piece.element.closest("svg")) blocks.set(holder, [...(blocks.get(holder) || []), piece]);
  }
  for (const [element, own] of blocks) {
    const lines = new Set(own.map((piece) => Math.round(piece.top / 6))).size;
    if (lines < 3) continue;
    const box = place(element), em = parseFloat(style(element).fontSize);
    const letters = own.reduce((sum, piece) => sum + piece.wide, 0) / (0.5 * em);
    if (lines >= 4 && letters / lines < 9) say("squeezed", `${Math.round(letters / lines)} letters a line: ${element.innerText}`);
    else if (box.width < 22 * em && lonely(element, box)) {
      const room = place(element.closest("section, article, main, body"));
      if (box.width < 0.5 * room.width) say("squeezed", `${Math.round(box.width)} of ${Math.round(room.width)} px: ${element.innerText}`);
    }
  }
  /* Whether nothing stands on either side of a box, in the section that it belongs to, nor beside a column it is in. */
  function lonely(element, box) {
    if (columned(element)) return false;
    const room = element.closest("section, article, main, body");
    const beside = (other) => other.bottom > box.top + 2 && other.top < box.bottom - 2 &&
      (other.left >= box.right - 1 || other.right <= box.left + 1);
    return !pieces.some((piece) => room.contains(piece.element) && beside(piece)) &&
      ![...room.querySelectorAll("img, svg, input, button")].some((one) => seen(one) && place(one).width > 20 && beside(place(one)));
  }

  function columned(element) {
    if (element === document.body || element.matches("section, article, main")) return false;
    const own = place(element), others = [...element.parentElement.children].filter((one) => one !== element && seen(one));
    const beside = ({ top, bottom, left, right, width }) => bottom > own.top + 2 && top < own.bottom - 2 &&
      (left >= own.right - 1 || right <= own.left + 1) && width > 20;
    return (/grid|flex/.test(style(element.parentElement).display) && others.some((one) => beside(place(one)))) ||
      columned(element.parentElement);
  }

  /* ---- what is pointed at: WCAG 2.2, success criterion 2.5.8, with its exceptions ---- */
  const TARGETS = "a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [tabindex='0'][role]";
  const targets = [...document.querySelectorAll(TARGETS)].filter((element) => seen(element) && !element.closest("svg"));
  const boxes = targets.map((element) => {
    const all = [element.closest("label"), element].filter(Boolean).flatMap((one) => [...one.getClientRects()]);
    const box = all.reduce((best, one) => (one.width * one.height > best.width * best.height ? one : best), all[0]);
    return { element, box };
  }).filter(({ element, box }) => box && within(box, element));
  const small = ({ box }) => Math.min(box.width, box.height) < target - 0.5;
  for (const one of boxes.filter(small)) {
    if (inSentence(one.element)) continue;
    const x = one.box.left + one.box.width / 2, y = one.box.top + one.box.height / 2;
    const near = boxes.find((other) => other.element !== one.element && !other.element.contains(one.element) &&
      !one.element.contains(other.element) && distance(other, x, y) < target / 2 - 0.5);
    if (near) say("small target", `${Math.round(one.box.width)} x ${Math.round(one.box.height)} px, ${name(one.element)} ` +
      `“${one.element.innerText || one.element.ariaLabel || ""}” by “${near.element.innerText || near.element.ariaLabel || name(near.element)}”`);
  }
  /* How far a target is from a point: its box, or where it is small, too, the circle about its middle. */
  function distance(other, x, y) {
    const { left, right, top, bottom } = other.box;
    const edge = Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
    return small(other) ? Math.min(edge, Math.hypot((left + right) / 2 - x, (top + bottom) / 2 - y) - target / 2) : edge;
  }
  function inSentence(element) {
    if (style(element).display !== "inline") return false;
    const block = element.parentElement.closest("p, li, dd, dt, td, th, figcaption, caption, div, section, summary, h1, h2, h3, h4, body");
    const rest = [...block.childNodes].filter((node) => !node.contains(element)).map((node) => node.textContent).join(" ");
    return /\p{L}{2,}/u.test(rest.replace(/[·,]/g, " "));
  }
  return faults;
}
