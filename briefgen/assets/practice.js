/* Practice: one question at a time, what was missed again at growing intervals, and the score by outcome. Answers are kept
   in this browser alone, and saved as a file only by the learner; where nothing can be kept, practice goes on without.
   Without this script the questions are text, with their answers to open. The boxes are those of briefgen/practice. */
(() => {
  const root = document.querySelector("[data-practice]");
  if (!root) return;
  const part = (name) => root.querySelector(`[data-practice-${name}]`);
  const questions = [...root.querySelectorAll("[data-question]")];
  const days = root.dataset.days.split(" ").map(Number);
  const mark = root.dataset.mark === "" ? null : Number(root.dataset.mark);
  const scope = typeof __md_scope === "undefined" ? "" : __md_scope.pathname;
  const name = `${scope}.practice.${root.dataset.programme}/${root.dataset.sortie}/${root.dataset.person}`;
  const idOf = (question) => question.dataset.question;
  const wording = new Map(questions.map((one) => [idOf(one), one.dataset.wording]));
  const wordsOf = (text) => text.split(" ").filter(Boolean);

  /* -- what is kept -- */

  const day = (date) => `${date.getFullYear()}-${String(date.getMonth() + 1).padStart(2, "0")}-${String(date.getDate()).padStart(2, "0")}`;
  const today = () => day(new Date());
  function dayAfter(count) {
    const date = new Date();
    date.setDate(date.getDate() + count);
    return day(date);
  }

  const whole = (value, least, most) => Number.isInteger(value) && value >= least && value <= most;
  const sound = (one) => one && whole(one.box, 1, days.length) && whole(one.asked, 1, 1e6) && whole(one.right, 0, one.asked)
    && /^\d{4}-\d\d-\d\d$/.test(one.due) && !Number.isNaN(Date.parse(one.due)) && ["right", "wrong"].includes(one.last);

  /** A question that is asked or answered otherwise since it was answered is a new one: what was kept of it goes. */
  let anew = 0;
  function load() {
    try {
      const read = Object.entries(JSON.parse(localStorage.getItem(name)) || {}).filter(([, one]) => sound(one));
      const same = read.filter(([id, one]) => !wording.has(id) || one.wording === wording.get(id));
      anew = read.length - same.length;
      return new Map(same);
    } catch { return new Map(); }
  }
  function save() {
    try { localStorage.setItem(name, JSON.stringify(Object.fromEntries(kept))); } catch { /* A browser that keeps nothing. */ }
  }
  let kept = load();

  function note(question, right) {
    const old = kept.get(idOf(question)) || { box: 1, asked: 0, right: 0 };
    const box = right ? Math.min(old.box + 1, days.length) : 1;
    kept.set(idOf(question), {
      box, due: dayAfter(days[box - 1]), asked: Math.min(1e6, old.asked + 1),
      right: old.right + (right && old.asked < 1e6 ? 1 : 0), last: right ? "right" : "wrong",
      wording: question.dataset.wording,
    });
    save();
    showScore();
  }

  const isDue = (question) => !kept.has(idOf(question)) || kept.get(idOf(question)).due <= today();

  /* -- the score -- */

  function showScore() {
    const due = questions.filter(isDue);
    const later = questions.map((one) => kept.get(idOf(one))?.due).filter((one) => one > today()).sort();
    part("due").textContent = due.length ? `Due today: ${due.length} of ${questions.length} questions.${anewWords()}`
      : `Nothing is due today.${later.length ? ` The next is due on ${later[0]}.` : ""}`;
    part("start").disabled = !due.length;
    part("sum").textContent = shareWords(questions);
    for (const row of root.querySelectorAll("[data-outcome]")) {
      const own = questions.filter((one) => wordsOf(one.dataset.outcomes).includes(row.dataset.outcome));
      const share = row.querySelector("[data-practice-share]");
      share.textContent = shareWords(own);
      row.toggleAttribute("data-passed", passed(own));
    }
    part("export").disabled = part("clear").disabled = !questions.some((one) => kept.has(idOf(one)));
  }

  const anewWords = () => (anew ? ` ${anew} ${anew === 1 ? "is" : "are"} asked or answered otherwise since you answered: ${anew === 1 ? "it begins" : "they begin"} anew.` : "");

  const rightOf = (own) => own.filter((one) => kept.get(idOf(one))?.last === "right").length;
  const passed = (own) => mark !== null && own.length > 0 && rightOf(own) / own.length >= mark - 1e-9;

  function shareWords(own) {
    const asked = own.filter((one) => kept.has(idOf(one))).length;
    const verdict = mark === null || !own.length ? "" : passed(own) ? ": reached" : ": not yet reached";
    return `${rightOf(own)} of ${own.length} right, ${asked} answered${verdict}`;
  }

  /* -- putting in order -- */

  function steer(list) {
    for (const item of list.children) {
      const words = item.querySelector("span").textContent;
      for (const [sign, way, step] of [["↑", "earlier", -1], ["↓", "later", 1]]) {
        const button = document.createElement("button");
        Object.assign(button, { type: "button", className: "bg-button", textContent: sign });
        button.setAttribute("aria-label", `Move ${way}: ${words}`);
        button.addEventListener("click", () => move(list, item, step, button));
        item.append(button);
      }
    }
  }

  function move(list, item, step, button) {
    const other = step < 0 ? item.previousElementSibling : item.nextElementSibling;
    if (!other || root.querySelector("[data-now]")?.hasAttribute("data-done")) return;
    if (step < 0) other.before(item); else other.after(item);
    button.focus();
    say(`Now ${[...list.children].indexOf(item) + 1} of ${list.children.length}.`);
  }

  /** Puts the items where they stood, so that the next time begins as the first. */
  function reset(question) {
    for (const input of question.querySelectorAll("input")) {
      if (input.type === "text") input.value = ""; else input.checked = false;
      input.disabled = false;
    }
    const list = question.querySelector("ol.bg-practice__order");
    if (list) list.append(...[...list.children].sort((one, other) => one.dataset.place - other.dataset.place));
    question.toggleAttribute("data-done", false);
    question.querySelector("details").open = false;
  }

  /* -- is it right? null: nothing was answered that can be judged -- */

  function read(text, units) {
    const names = Object.keys(units).sort((one, other) => other.length - one.length)
      .map((one) => one.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
    const one = new RegExp(`(\\d{1,9}(?:[.,]\\d{1,9})?)\\s*(${names.join("|")})(?!\\p{L})`, "gu");
    const pieces = [...text.matchAll(one)];
    if (!pieces.length || text.replace(one, "").trim()) return null;
    return pieces.reduce((sum, piece) => sum + Number(piece[1].replace(",", ".")) * units[piece[2]], 0);
  }

  const judges = {
    choose(question) {
      const inputs = [...question.querySelectorAll(".bg-question__answers input")];
      if (!inputs.some((one) => one.checked)) return [null, "Choose an answer first."];
      const right = wordsOf(question.dataset.right).map(Number);
      return [inputs.every((one, place) => one.checked === right.includes(place))];
    },
    order(question) {
      const places = [...question.querySelectorAll(".bg-practice__order > li")].map((one) => one.dataset.place);
      return [places.join(" ") === question.dataset.right];
    },
    number(question) {
      const units = JSON.parse(question.dataset.units);
      const value = read(question.querySelector("input").value.trim(), units);
      if (value === null) return [null, `Write a number with its unit (${Object.keys(units).join(", ")}).`];
      const slip = 1e-6 * Math.max(1, Number(question.dataset.high));
      return [value >= Number(question.dataset.low) - slip && value <= Number(question.dataset.high) + slip];
    },
  };

  /* -- a sitting -- */

  let queue = [], again = new Set(), count = 0;
  const say = (words) => { part("said").textContent = words; };

  /** New questions of different kinds take turns; what was asked before comes first, the lowest box ahead. */
  function ordered(rows) {
    const turns = new Map(), turn = new Map();
    for (const one of rows) {
      turn.set(one, turns.get(one.dataset.kind) || 0);
      turns.set(one.dataset.kind, turn.get(one) + 1);
    }
    const box = (one) => kept.get(idOf(one))?.box || 99;
    return [...rows].sort((one, other) => box(one) - box(other) || turn.get(one) - turn.get(other));
  }

  function begin(rows) {
    queue = ordered(rows);
    again = new Set();
    count = 0;
    root.toggleAttribute("data-sitting", true);
    for (const name of ["bar", "score"]) part(name).hidden = true;
    for (const name of ["steer", "foot"]) part(name).hidden = false;
    show();
  }

  function show() {
    root.querySelector("[data-now]")?.toggleAttribute("data-now", false);
    if (!queue.length) return end(true);
    const now = queue[0];
    reset(now);
    now.toggleAttribute("data-now", true);
    part("where").textContent = `Question ${count + 1}, ${queue.length} to go`;
    part("check").hidden = false;
    part("next").hidden = true;
    say("");
    now.querySelector("h3").focus({ preventScroll: true });
    part("steer").scrollIntoView({ block: "start" });
    return undefined;
  }

  function check() {
    const now = queue[0];
    const [right, why] = judges[now.dataset.form](now);
    if (right === null) { say(why); return; }
    // What is asked again in the same sitting has its box already.
    if (!again.has(now)) note(now, right);
    if (!right) again.add(now);
    now.toggleAttribute("data-done", true);
    now.querySelector("details").open = true;
    for (const input of now.querySelectorAll("input")) input.disabled = true;
    queue.shift();
    if (!right) queue.push(now);
    count += 1;
    say(right ? "Right." : "Not right. It comes again.");
    part("check").hidden = true;
    part("next").hidden = false;
    part("next").focus();
  }

  function end(through) {
    root.querySelector("[data-now]")?.toggleAttribute("data-now", false);
    root.toggleAttribute("data-sitting", false);
    for (const name of ["bar", "score"]) part(name).hidden = false;
    for (const name of ["steer", "foot"]) part(name).hidden = true;
    questions.forEach(reset);
    showScore();
    if (through) part("due").textContent = `That was all. ${part("due").textContent}`;
    part("all").focus();
  }

  /* -- hand in, clear -- */

  function results() {
    const data = root.dataset;
    const answers = questions.filter((one) => kept.has(idOf(one))).map((one) => ({
      question: idOf(one), kind: one.dataset.kind, outcomes: wordsOf(one.dataset.outcomes),
      box: kept.get(idOf(one)).box, due: kept.get(idOf(one)).due, asked: kept.get(idOf(one)).asked,
      right: kept.get(idOf(one)).right, last: kept.get(idOf(one)).last,
    }));
    const outcomes = [...root.querySelectorAll("[data-outcome]")].map((row) => ({
      id: row.dataset.outcome, does: row.dataset.does, questions: Number(row.dataset.questions),
    }));
    return {
      format: "briefgen practice results", version: 1, programme: data.programme, title: data.programmeTitle,
      sortie: data.sortie, person: data.person, name: data.name, exported: new Date().toISOString(), pass_mark: mark,
      questions: questions.length, outcomes, answers,
    };
  }

  function keepFile() {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([`${JSON.stringify(results(), null, 2)}\n`], { type: "application/json" }));
    link.download = `practice-${root.dataset.sortie}-${root.dataset.person}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    part("note").textContent = `Saved as ${link.download}.`;
  }

  function clear() {
    for (const one of questions) kept.delete(idOf(one));
    try { localStorage.removeItem(name); } catch { /* Nothing was kept. */ }
    kept = new Map();
    anew = 0;
    part("really").hidden = true;
    part("note").textContent = "Your answers are cleared.";
    showScore();
  }

  for (const list of root.querySelectorAll("ol.bg-practice__order")) steer(list);
  for (const name of ["bar", "score"]) part(name).hidden = false;
  part("start").addEventListener("click", () => begin(questions.filter(isDue)));
  part("all").addEventListener("click", () => begin(questions));
  part("check").addEventListener("click", check);
  part("next").addEventListener("click", show);
  part("stop").addEventListener("click", () => end(false));
  part("export").addEventListener("click", keepFile);
  part("clear").addEventListener("click", () => { part("really").hidden = false; part("really").focus(); });
  part("really").addEventListener("click", clear);
  root.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches(".bg-practice__number input") && root.hasAttribute("data-sitting")) check();
  });
  // The same page in another tab: what was answered there counts here.
  window.addEventListener("storage", (event) => {
    if (event.key !== name) return;
    kept = load();
    showScore();
  });
  showScore();
})();
