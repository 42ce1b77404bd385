/* What is done on the page of the day as it goes: the fields, and the rehearsal that is kept and exported. All numbers
   come from underway.js, all words from underway-words.js. */
(() => {
  const root = document.querySelector("[data-day]");
  if (!root?.briefgenDay?.words) return;
  const { day, answer: compute, contradictions, words: { clock, span, make, sentence, stopParts, caseParts, rows } } = root.briefgenDay;
  const part = (name) => root.querySelector(`[data-day-${name}]`);
  const every = (name) => [...root.querySelectorAll(`[data-day-${name}]`)];
  const scope = typeof __md_scope === "undefined" ? "" : __md_scope.pathname;
  const name = `${scope}.underway.${root.dataset.programme}/${root.dataset.sortie}`;
  const LONGEST = 12 * 3600, MOST = 1000;
  // `hit`: a case of a step, and since when it is being done; null until its step is done. `stopped`: when a stop was called.
  // `left`: steps of a task that was left, which nobody does any more.
  const nothing = () => ({ now: 0, people: day.people.map(() => [0, null]), log: [], hit: null, stopped: null, left: [] });

  // A change asks for the same answer more than once, and the likely next one is worked out ahead.
  const answers = new Map(), KEPT = 8;
  let ahead = null;
  const keyOf = (where) => JSON.stringify([where.now, where.people]);
  function answer(where) {
    const key = keyOf(where);
    if (!answers.has(key)) {
      if (answers.size >= KEPT) answers.delete(answers.keys().next().value);
      answers.set(key, compute(where));
    }
    return answers.get(key);
  }

  function read(words) {
    const found = /^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?$/.exec(words.trim());
    return found ? Number(found[1]) * 3600 + Number(found[2]) * 60 + Number(found[3] || 0) : null;
  }

  /* -- what is kept -- */

  const whole = (value, most) => Number.isInteger(value) && value >= 0 && value <= most;
  const time = (value) => typeof value === "number" && value >= 0 && value <= day.length + LONGEST;
  const known = (value, at) => value === null || (time(value) && value <= at);
  function sound(one) {
    return one && time(one.now) && Array.isArray(one.log) && one.log.length <= MOST && Array.isArray(one.people)
      && one.people.length === day.people.length && known(one.stopped, one.now)
      && (one.hit === null || (one.hit && whole(one.hit.number, day.cases.length - 1) && known(one.hit.since, one.now)))
      && one.people.every((row, person) => Array.isArray(row) && whole(row[0], day.flows[person].length) && known(row[1], one.now))
      && Array.isArray(one.left) && one.left.every((index) => whole(index, day.steps.length - 1))
      && one.log.every((row) => row && time(row.at_s) && typeof row.event === "string" && typeof row.words === "string"
        && Array.isArray(row.done) && row.done.length === day.people.length);
  }
  function load() {
    try { const kept = JSON.parse(localStorage.getItem(name)); return sound(kept) ? kept : nothing(); } catch { return nothing(); }
  }
  const idle = window.requestIdleCallback?.bind(window) ?? ((act) => setTimeout(act, 50));
  let unsaved = false;
  function save() {
    if (unsaved) { try { localStorage.setItem(name, JSON.stringify(at)); } catch { /* A browser that keeps nothing. */ } }
    unsaved = false;
  }
  /** Kept once the answer is drawn: a long run takes a while to write. Whoever leaves the page leaves nothing behind. */
  function saveSoon() {
    if (!unsaved) idle(save, { timeout: 500 });
    unsaved = true;
  }
  let at = load();

  /* -- what is seen -- */

  function wrong() {
    const [one] = contradictions(at);
    if (!one) return "";
    const [who, other] = [day.people[one.person].name, day.people[one.other].name], [step, first] = [day.steps[one.step].words, day.steps[one.first].words];
    return one.step === one.first ? `“${step}” is done together: it is finished for ${who} and ${other}, or for neither.`
      : `${who} can't have finished “${step}” before ${other} has finished “${first}”, which it waits for.`;
  }

  function button(words, act) {
    const made = make("button", words, { type: "button", class: "bg-button" });
    made.addEventListener("click", act);
    return made;
  }

  /** What the crew is told beside the answer: a case's steps, or the written way back. */
  function told(its) {
    const parts = [];
    if (at.hit && at.hit.since !== null) parts.push(...caseParts(day.cases[at.hit.number], at.hit.since, answer(after(at.hit))), button("The case is over", caseOver));
    if (at.stopped !== null) parts.push(...stopParts(its, at.stopped), button("Go on", () => { at.stopped = null; note("go on", ""); show(); }));
    part("told").replaceChildren(...parts);
    part("told").hidden = !parts.length;
  }

  /** A field says something else only where that is so: a long list is measured anew each time. */
  function set(field, words) {
    if (field.value !== words) field.value = words;
  }

  /** Makes a box hold these parts, and of what is there already keeps whatever says the same: little is laid out anew. */
  function fit(box, parts) {
    parts.forEach((made, place) => {
      const old = box.childNodes[place];
      if (!old) box.append(made);
      else if (old.nodeType !== Node.ELEMENT_NODE || !old.cloneNode().isEqualNode(made.cloneNode())) {
        if (!old.isEqualNode(made)) old.replaceWith(made);
      } else fit(old, [...made.childNodes]);
    });
    while (box.childNodes.length > parts.length) box.lastChild.remove();
  }

  /** The run as a list: only what is new is written, and while somebody looks at it. */
  let logged = [];
  function log() {
    const list = part("log");
    if (!list.closest("details").open) return;
    for (; logged.length && logged[0] !== at.log[0]; logged.shift()) list.firstChild.remove();
    list.append(...at.log.slice(logged.length).map((row) => make("li", `${clock(row.at_s)} ${row.event}${row.words && `: ${row.words}`}`)));
    logged = [...at.log];
  }

  /** The answer as it is shown: once a task was left, the stops that were computed ahead are others'. */
  function seen(where = at) {
    const its = answer(where);
    return at.left.some((index) => isDone(index, where.people)) ? { ...its, home: { ...its.home, left: true } } : its;
  }

  const NOTHING = { words: "", parts: [] };
  const made = (its) => Object.fromEntries(Object.entries(rows).map(([key, make]) => [key, its ? make(its) : NOTHING]));

  /** While nobody does anything, what is likely asked for next is worked out and written: then it has but to be shown. */
  function prepare() {
    const next = contradictions(at).length ? null : upcoming();
    ahead = next && { key: keyOf(next.where), left: at.left, parts: made(seen(next.where)) };
  }

  function show(more = "") {
    set(part("now"), clock(at.now));
    every("done").forEach((one, person) => set(one, String(at.people[person][0])));
    every("since").forEach((one, person) => set(one, at.people[person][1] === null ? "" : clock(at.people[person][1])));
    const bad = wrong(), its = bad ? null : seen();
    part("says").textContent = bad || `${more ? `${more} ` : ""}${sentence(its)}${leftWords(stillCounted())}`;
    part("next").disabled = !its || !its.steps.length;
    part("stop").disabled = part("next").disabled || at.stopped !== null;
    const written = its && ahead && ahead.left === at.left && ahead.key === keyOf(at) ? ahead.parts : made(its);
    ahead = null;
    for (const [key, { words, bad: trouble = false, parts }] of Object.entries(written)) {
      const row = root.querySelector(`[data-day-row="${key}"]`);
      row.querySelector("span").textContent = words;
      row.toggleAttribute("data-bad", trouble);
      fit(row.querySelector("div"), parts);
    }
    if (its) told(its); else part("told").hidden = true;
    part("entries").textContent = at.log.length ? `${at.log.length} ${at.log.length === 1 ? "entry" : "entries"}, save or begin again` : "nothing yet";
    log();
    saveSoon();
    idle(prepare);
  }

  /* -- the rehearsal -- */

  function note(event, words) {
    const its = contradictions(at).length ? null : answer(at);
    at.log.push({ at_s: at.now, event, words, done: day.people.map((_, person) => at.people[person][0]), late_s: its && its.late_s, finish_s: its && its.finish_s });
    at.log.splice(0, Math.max(0, at.log.length - MOST));
  }

  const isDone = (index, people = at.people) => day.steps[index].people.every((person) => day.flows[person].indexOf(index) < people[person][0]);
  const isNext = (index, people = at.people) => day.steps[index].people.every((person) => day.flows[person][people[person][0]] === index);

  /** Whoever comes to a step that nobody does any more goes on past it, once nothing that it waits for is to come. */
  function passing(people, left, now) {
    const ready = (one) => isNext(one, people) && day.steps[one].earlier.every((first) => isDone(first, people));
    for (let index; (index = left.find(ready)) !== undefined;)
      for (const person of day.steps[index].people) people[person] = [people[person][0] + 1, now];
    return people;
  }

  const stillCounted = () => at.left.filter((index) => !isDone(index)).length;
  const leftWords = (many) => (many ? ` ${many} ${many === 1 ? "step" : "steps"} of what was left still ${many === 1 ? "counts" : "count"}, so that it may end sooner.` : "");

  /** How far everybody is once a step is over for all who do it. */
  function finished(index, now) {
    const people = at.people.map((row, person) => (day.steps[index].people.includes(person) ? [day.flows[person].indexOf(index) + 1, now] : [...row]));
    return passing(people, at.left, now);
  }

  function finish(index) {
    at.people = finished(index, at.now);
    note("done", day.steps[index].key);
    let said = `Done: ${day.steps[index].words}.`;
    if (at.hit && at.hit.since === null && day.cases[at.hit.number].step === index) {
      at.hit.since = at.now;
      said = day.cases[at.hit.number].when;
      note("case", `${day.steps[index].key}: ${said}`);
    }
    show(said);
  }

  /** The step that is likely done next, and the situation then; null where none is. */
  function upcoming() {
    const row = [...answer(at).steps].sort((one, other) => one.ends_s - other.ends_s);
    const nexts = row.map((one) => [one, day.steps.findIndex((step) => step.key === one.step)]).filter(([, index]) => isNext(index));
    const ready = nexts.find(([, index]) => !at.left.includes(index)) ?? nexts[0];
    if (!ready || !time(ready[0].ends_s)) return null;
    const now = Math.max(at.now, ready[0].ends_s);
    return { step: ready[1], where: { now, people: finished(ready[1], now) } };
  }

  function next() {
    const ready = upcoming();
    if (!ready) return;
    at.now = ready.where.now;
    finish(ready.step);
  }

  /** The situation when a case is over as long as is likely: who is in it goes on from there, past what is not done. */
  function after({ number, since }) {
    const its = day.cases[number], now = Math.max(at.now, since + its.seconds);
    const people = at.people.map(([count, ended], person) => [count, its.people.includes(person) ? now : ended]);
    return { now, people: passing(people, [...at.left, ...its.skipped], now) };
  }

  function caseOver() {
    const over = after(at.hit), its = day.cases[at.hit.number], key = day.steps[its.step].key;
    Object.assign(at, over, { hit: null, left: [...new Set([...at.left, ...its.skipped])] });
    note("case over", key);
    show("The case is over.");
  }

  /** A case comes when its step is done: at once where that is the next one, else when it is. */
  function strike() {
    const number = Number(part("case").value), its = day.cases[number], row = answer(at).steps.find((one) => one.step === day.steps[its.step].key);
    if (contradictions(at).length) return;
    if (!row) { show("That step is done already."); return; }
    at.hit = { number, since: null };
    if (!isNext(its.step)) { show(`It comes when “${day.steps[its.step].words}” is done.`); return; }
    at.now = Math.max(at.now, row.ends_s);
    finish(its.step);
  }

  function inject(kind) {
    const minutes = Number(part("minutes").value);
    if (!(part("minutes").value.trim() && minutes >= 0 && minutes <= 600 && time(at.now + minutes * 60))) { show("Give the minutes, from 0 to 600."); return; }
    // Time passes, and nobody gets on: what is in work begins anew from here.
    at.now += minutes * 60;
    at.people = at.people.map(([count]) => [count, at.now]);
    note(kind, `${minutes} min`);
    show(`${kind === "delay" ? "A delay" : "A failed step"} of ${minutes} min.`);
  }

  function stop() {
    at.stopped = at.now;
    note("stop", "A stop is called.");
    show("A stop is called.");
  }

  const wholly = (seconds) => (seconds === null ? null : Math.round(seconds));

  /** Times leave the page in whole seconds. */
  function file(kind) {
    const events = at.log.map((row) => ({ ...row, at_s: wholly(row.at_s), late_s: wholly(row.late_s), finish_s: wholly(row.finish_s) }));
    const head = { format: "briefgen rehearsal", version: 1, programme: root.dataset.programme, sortie: root.dataset.sortie,
      exported: new Date().toISOString(), length_s: wholly(day.length), people: day.people.map((one) => one.id), events };
    const cell = (value) => `"${String(value ?? "").replace(/^[=+\-@]/, "'$&").replaceAll('"', '""')}"`;
    const text = kind === "json" ? `${JSON.stringify(head, null, 2)}\n`
      : [["at_s", "event", "words", "late_s", "finish_s", ...head.people], ...events.map((row) => [row.at_s, row.event, row.words, row.late_s, row.finish_s, ...row.done])]
        .map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
    const link = make("a", "");
    link.href = URL.createObjectURL(new Blob([text], { type: kind === "json" ? "application/json" : "text/csv" }));
    link.download = `rehearsal-${root.dataset.sortie}.${kind}`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    show(`Saved as ${link.download}.`);
  }

  /* -- the fields -- */

  every("done").forEach((list, person) => {
    day.flows[person].forEach((index, seat) => list.append(make("option", `${seat + 1}. ${day.steps[index].words}`, { value: seat + 1 })));
    list.addEventListener("change", () => { at.people[person] = [Number(list.value), null]; note("set", `${day.people[person].id}: ${day.steps[day.flows[person][list.value - 1]]?.key ?? "nothing yet"}`); show(); });
  });
  every("since").forEach((field, person) => field.addEventListener("change", () => {
    const seconds = field.value.trim() ? read(field.value) : null;
    if (field.value.trim() && (seconds === null || seconds > at.now)) { show("Give an elapsed time up to now, like 3:25:00."); return; }
    at.people[person][1] = seconds;
    note("set", `${day.people[person].id}: ${seconds === null ? "not noted" : clock(seconds)}`);
    show();
  }));
  part("now").addEventListener("change", () => {
    const seconds = read(part("now").value);
    if (seconds === null || !time(seconds)) { show("Give the elapsed time, like 3:25:00."); return; }
    at.now = seconds;
    at.people = at.people.map(([count, since]) => [count, since !== null && since > seconds ? null : since]);
    if (at.stopped > seconds) at.stopped = null;
    if (at.hit?.since > seconds) at.hit = null;
    note("set", `clock: ${clock(seconds)}`);
    show();
  });
  every("finish").forEach((button, person) => button.addEventListener("click", () => {
    const index = day.flows[person][at.people[person][0]];
    if (index !== undefined) finish(index);
  }));
  part("next").addEventListener("click", next);
  part("stop").addEventListener("click", stop);
  part("strike")?.addEventListener("click", strike);
  every("inject").forEach((button) => button.addEventListener("click", () => inject(button.dataset.dayInject)));
  every("export").forEach((button) => button.addEventListener("click", () => file(button.dataset.dayExport)));
  part("log").closest("details").addEventListener("toggle", log);
  window.addEventListener("pagehide", save);
  document.addEventListener("visibilitychange", save);
  part("clear").addEventListener("click", () => { at = nothing(); show("Begun again."); });
  part("chosen").open = false;
  part("live").hidden = false;
  show();
})();
