/* What is seen of the day as it goes: the fields, the sentences and tables, and the rehearsal that is kept and exported.
   All numbers come from underway.js. */
(() => {
  const root = document.querySelector("[data-day]");
  if (!root?.briefgenDay) return;
  const { day, answer, contradictions } = root.briefgenDay;
  const part = (name) => root.querySelector(`[data-day-${name}]`);
  const every = (name) => [...root.querySelectorAll(`[data-day-${name}]`)];
  const scope = typeof __md_scope === "undefined" ? "" : __md_scope.pathname;
  const name = `${scope}.underway.${root.dataset.programme}/${root.dataset.sortie}`;
  const LONGEST = 12 * 3600, MOST = 1000;
  const nothing = () => ({ now: 0, people: day.people.map(() => [0, null]), log: [] });

  /* -- words -- */

  const two = (number) => String(number).padStart(2, "0");
  function clock(seconds) {
    const whole = Math.round(Math.abs(seconds));
    return `${seconds < 0 ? "−" : ""}${Math.floor(whole / 3600)}:${two(Math.floor(whole % 3600 / 60))}:${two(whole % 60)}`;
  }
  function span(seconds) {
    if (seconds === null) return "no way leads back";
    const whole = Math.round(Math.abs(seconds)), hours = Math.floor(whole / 3600), minutes = Math.floor(whole % 3600 / 60), left = whole % 60;
    const sign = seconds < 0 && whole ? "−" : "";
    if (hours) return `${sign}${hours} h ${two(minutes)} min${left ? ` ${two(left)} s` : ""}`;
    return minutes ? `${sign}${minutes} min${left ? ` ${two(left)} s` : ""}` : `${sign}${left} s`;
  }
  const byMinute = (seconds) => (seconds < 0 ? "never in time" : clock(Math.floor(seconds / 60) * 60));
  function read(words) {
    const found = /^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?$/.exec(words.trim());
    return found ? Number(found[1]) * 3600 + Number(found[2]) * 60 + Number(found[3] || 0) : null;
  }
  const wordsOf = (key) => day.steps.find((step) => step.key === key)?.words || key;
  const tasks = (row) => row.map((task) => day.tasks[task]).join(", ");
  const WHY = { begun: "no: begun, or somebody may be on the way to it", done: "done", unproved: "no: not proved together with those above",
    worse: "no: work would fall into the dark, a reserve be touched, or the end be later" };

  /* -- what is kept -- */

  const whole = (value, most) => Number.isInteger(value) && value >= 0 && value <= most;
  const time = (value) => typeof value === "number" && value >= 0 && value <= day.length + LONGEST;
  function sound(one) {
    return one && time(one.now) && Array.isArray(one.log) && one.log.length <= MOST && Array.isArray(one.people)
      && one.people.length === day.people.length
      && one.people.every((row, person) => Array.isArray(row) && whole(row[0], day.flows[person].length) && (row[1] === null || (time(row[1]) && row[1] <= one.now)))
      && one.log.every((row) => row && time(row.at_s) && typeof row.event === "string" && typeof row.words === "string");
  }
  function load() {
    try { const kept = JSON.parse(localStorage.getItem(name)); return sound(kept) ? kept : nothing(); } catch { return nothing(); }
  }
  function save() {
    try { localStorage.setItem(name, JSON.stringify(at)); } catch { /* A browser that keeps nothing. */ }
  }
  let at = load();

  /* -- what follows -- */

  function make(tag, words, more = {}) {
    const made = document.createElement(tag);
    made.textContent = words;
    Object.entries(more).forEach(([key, value]) => made.setAttribute(key, value));
    return made;
  }

  function table(title, heads, rows, empty) {
    if (!rows.length) return make("p", `${title}: ${empty}`);
    const box = make("div", "", { class: "bg-table", "data-narrow": "cards" }), made = make("table", ""), head = make("tr", ""), body = make("tbody", "");
    heads.forEach((one) => head.append(make("th", one, { scope: "col" })));
    for (const row of rows) {
      const line = make("tr", "");
      row.forEach((words, place) => line.append(place ? make("td", words, { "data-label": heads[place] }) : make("th", words, { scope: "row" })));
      body.append(line);
    }
    const top = make("thead", "");
    top.append(head);
    made.append(make("caption", title), top, body);
    box.append(made);
    return box;
  }

  function section(title, ...parts) {
    const made = make("section", "", { class: "bg-section" });
    made.append(make("h2", title), ...parts);
    return made;
  }

  function sentence(its) {
    const late = Math.abs(its.late_s) < 0.5 ? "as planned" : `${span(Math.abs(its.late_s))} ${its.late_s > 0 ? "late" : "early"}`;
    const spare = its.spare_s >= 0 ? `${span(its.spare_s)} to spare` : `${span(-its.spare_s)} too late`;
    return `${late[0].toUpperCase()}${late.slice(1)}: the end at ${clock(its.finish_s)}, ${spare}. Critical now: ${its.critical.length ? wordsOf(its.critical[0]) : "nothing"}.`;
  }

  function lightWords({ night, until_s: until }) {
    if (night === null) return "Light: not known.";
    return `Light: ${night ? "night" : "day"} ${until === null ? "with no change listed" : `until ${clock(until)}`}.`;
  }

  function homeParts(its) {
    const { home } = its, far = (seconds) => (seconds === null ? "no way home" : span(seconds));
    const bare = Object.entries(home.bare_s).map(([id, seconds]) => `${day.people.find((one) => one.id === id).name} ${far(seconds)}`);
    const parts = [make("p", `Immediate return, leaving all as it is, at most: ${bare.join(", ") || "nobody is outside"}.`)];
    if (!home.known) return [...parts, make("p", "These last steps are too far off the plan: the orderly stop was not computed ahead for them. “briefgen now” computes it.")];
    parts.push(make("p", `Orderly stop, all closed and everybody home, at most: ${span(home.all_s)}.`));
    if (!home.searched) parts.push(make("p", "Too much is open at once to try every way of closing it: what is shown is a way as written, and there may be a quicker one.", { class: "bg-note" }));
    parts.push(table("What is open now", ["Open", "How", "Closed by"], home.open.map((one) => [one.what, one.how, one.closed_by ? wordsOf(one.closed_by) : home.searched ? "no way back is written" : "nothing that is shown"]), "nothing."));
    parts.push(table("The written way back", ["Step", "Begins", "Ends"], home.closing.map((one) => [wordsOf(one.step), `+${clock(one.begins_s)}`, `+${clock(one.ends_s)}`]), "nothing is to close."));
    return parts;
  }

  function tables(its) {
    const out = its.omissions.map((one) => [tasks(one.tasks), one.why_not ? WHY[one.why_not] : span(one.gains_s), one.why_not ? "" : clock(one.finish_s)]);
    const dues = its.due.map((one) => [day.tasks[one.task], clock(one.begins_s), byMinute(one.latest_s), one.fits ? "yes" : "NO"]);
    const left = its.supplies.map((one) => [`${day.people.find((who) => who.id === one.person).name}, ${one.supply.replaceAll("-", " ")}`,
      ...[one.now, one.end, one.keeps].map((amount) => `${amount.toFixed(2)} ${one.unit}`), one.reserve_s === null ? "never" : clock(one.reserve_s)]);
    const dark = its.dark.length ? [make("p", `Needs light and falls into the dark: ${its.dark.map(wordsOf).join("; ")}.`)] : [];
    return [
      section("Until when, and what to leave out", table("Until when each task may begin", ["Task", "Would begin", "Begin by", "Fits"], dues, "every task is begun."),
        table("What to leave out, in this order", ["Leave out", "Gains", "The end"], out, "nothing can be left out.")),
      section("If everybody turns home now", ...homeParts(its)),
      section("Supplies and light from here", table("Supplies (computed, not read)", ["Supply", "Left now", "Left in the end", "Reserve", "Reserve touched"], left, "none."), make("p", lightWords(its.light)), ...dark),
    ];
  }

  function wrong() {
    const [one] = contradictions(at);
    if (!one) return "";
    const [who, other] = [day.people[one.person].name, day.people[one.other].name], [step, first] = [day.steps[one.step].words, day.steps[one.first].words];
    return one.step === one.first ? `“${step}” is done together: it is finished for ${who} and ${other}, or for neither.`
      : `${who} can't have finished “${step}” before ${other} has finished “${first}”, which it waits for.`;
  }

  function show(more = "") {
    part("now").value = clock(at.now);
    every("done").forEach((one, person) => { one.value = String(at.people[person][0]); });
    every("since").forEach((one, person) => { one.value = at.people[person][1] === null ? "" : clock(at.people[person][1]); });
    const bad = wrong();
    part("says").textContent = bad || more;
    part("answer").replaceChildren();
    part("next").disabled = Boolean(bad);
    if (!bad) {
      const its = answer(at);
      part("says").textContent = `${more ? `${more} ` : ""}${sentence(its)}`;
      part("answer").append(...tables(its));
      part("next").disabled = !its.steps.length;
    }
    part("log").replaceChildren(...at.log.map((row) => make("li", `${clock(row.at_s)} ${row.event}: ${row.words}`)));
    save();
  }

  /* -- the rehearsal -- */

  function note(event, words) {
    const its = contradictions(at).length ? null : answer(at);
    at.log.push({ at_s: at.now, event, words, done: day.people.map((_, person) => at.people[person][0]), late_s: its && its.late_s, finish_s: its && its.finish_s });
    at.log.splice(0, at.log.length - MOST);
  }

  /** A step is over for all who do it. */
  function finish(index) {
    for (const person of day.steps[index].people) at.people[person] = [day.flows[person].indexOf(index) + 1, at.now];
    note("done", day.steps[index].key);
    show(`Done: ${day.steps[index].words}.`);
  }

  function next() {
    const row = [...answer(at).steps].sort((one, other) => one.ends_s - other.ends_s);
    const ready = row.map((one) => [one, day.steps.findIndex((step) => step.key === one.step)])
      .find(([, index]) => day.steps[index].people.every((person) => day.flows[person][at.people[person][0]] === index));
    if (!ready || !time(ready[0].ends_s)) return;
    at.now = Math.max(at.now, ready[0].ends_s);
    finish(ready[1]);
  }

  function inject(kind) {
    const minutes = Number(part("minutes").value);
    if (kind !== "stop" && !(minutes >= 0 && minutes <= 600 && time(at.now + minutes * 60))) { show("Give the minutes, from 0 to 600."); return; }
    // Time passes, and nobody gets on: what is in work begins anew from here.
    if (kind !== "stop") {
      at.now += minutes * 60;
      at.people = at.people.map(([count]) => [count, at.now]);
    }
    note(kind, kind === "stop" ? "A stop is called." : `${minutes} min`);
    show(kind === "stop" ? "A stop is called: see “If everybody turns home now”." : `${kind === "delay" ? "A delay" : "A failed step"} of ${minutes} min.`);
  }

  function file(kind) {
    const head = { format: "briefgen rehearsal", version: 1, programme: root.dataset.programme, sortie: root.dataset.sortie,
      exported: new Date().toISOString(), people: day.people.map((one) => one.id), events: at.log };
    const cell = (value) => `"${String(value ?? "").replace(/^[=+\-@]/, "'$&").replaceAll('"', '""')}"`;
    const text = kind === "json" ? `${JSON.stringify(head, null, 2)}\n`
      : [["at_s", "event", "words", "late_s", "finish_s", ...head.people], ...at.log.map((row) => [row.at_s, row.event, row.words, row.late_s, row.finish_s, ...row.done])]
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
    list.addEventListener("change", () => { at.people[person] = [Number(list.value), null]; note("set", `${day.people[person].id}: ${list.value}`); show(); });
  });
  every("since").forEach((field, person) => field.addEventListener("change", () => {
    const seconds = field.value.trim() ? read(field.value) : null;
    if (field.value.trim() && (seconds === null || seconds > at.now)) { show("Give an elapsed time up to now, like 3:25:00."); return; }
    at.people[person][1] = seconds;
    show();
  }));
  part("now").addEventListener("change", () => {
    const seconds = read(part("now").value);
    if (seconds === null || !time(seconds)) { show("Give the elapsed time, like 3:25:00."); return; }
    at.now = seconds;
    at.people = at.people.map(([count, since]) => [count, since !== null && since > seconds ? null : since]);
    show();
  });
  every("finish").forEach((button, person) => button.addEventListener("click", () => {
    const index = day.flows[person][at.people[person][0]];
    if (index !== undefined) finish(index);
  }));
  part("next").addEventListener("click", next);
  every("inject").forEach((button) => button.addEventListener("click", () => inject(button.dataset.dayInject)));
  every("export").forEach((button) => button.addEventListener("click", () => file(button.dataset.dayExport)));
  part("clear").addEventListener("click", () => { at = nothing(); show("Begun again."); });
  part("live").hidden = false;
  show();
})();
