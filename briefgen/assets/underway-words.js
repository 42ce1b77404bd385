/* The day as it goes in words: the sentence, and a row an answer with the table behind it. All numbers come from
   underway.js. */
(() => {
  const root = document.querySelector("[data-day]");
  if (!root?.briefgenDay) return;
  const { day } = root.briefgenDay;

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
  const wordsOf = (key) => day.back[key]?.words || day.steps.find((step) => step.key === key)?.words || key;
  const tasks = (row) => row.map((task) => day.tasks[task]).join(", ");
  const nameOf = (id) => day.people.find((one) => one.id === id).name;
  const count = (number, word) => `${number} ${word}${number === 1 ? "" : "s"}`;
  const WHY = { begun: "no: begun, or somebody may be on the way to it", done: "done", unproved: "no: not proved together with those above",
    worse: "no: work would fall into the dark, a reserve be touched, or the end be later" };

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

  function lateness(its) {
    const late = Math.abs(its.late_s) < 0.5 ? "as planned" : `${span(Math.abs(its.late_s))} ${its.late_s > 0 ? "late" : "early"}`;
    return `${late[0].toUpperCase()}${late.slice(1)}: the end at ${clock(its.finish_s)}, ${its.spare_s >= 0 ? `${span(its.spare_s)} to spare` : `${span(-its.spare_s)} too late`}.`;
  }
  const sentence = (its) => `${lateness(its)} Critical now: ${its.critical.length ? wordsOf(its.critical[0]) : "nothing"}.`;

  function lightWords({ night, until_s: until }) {
    if (night === null) return "Light: not known.";
    return `Light: ${night ? "night" : "day"} ${until === null ? "with no change listed" : `until ${clock(until)}`}.`;
  }

  /* -- the rows: {words, bad, parts} -- */

  function out({ omissions }) {
    const can = omissions.filter((one) => !one.why_not), rows = omissions.map((one) => [tasks(one.tasks), one.why_not ? WHY[one.why_not] : span(one.gains_s), one.why_not ? "" : clock(one.finish_s)]);
    return { words: can.length ? `first ${tasks(can[0].tasks)}: gains ${span(can[0].gains_s)}, the end at ${clock(can[0].finish_s)}` : "nothing can be left out now",
      parts: [table("What to leave out, in this order", ["Leave out", "Gains", "The end"], rows, "nothing can be left out.")] };
  }

  function fits({ due }) {
    const not = due.filter((one) => !one.fits), next = due[0];
    const rows = due.map((one) => [day.tasks[one.task], clock(one.begins_s), byMinute(one.latest_s), one.fits ? "yes" : "NO"]);
    const words = not.length ? `NO LONGER: ${tasks(not.map((one) => one.task))}` : next ? `all; ${day.tasks[next.task]} must begin by ${byMinute(next.latest_s)}` : "every task is begun";
    return { words, bad: not.length > 0, parts: [table("Until when each task may begin", ["Task", "Would begin", "Begin by", "Fits"], rows, "every task is begun.")] };
  }

  const closers = (home, one) => (one.closed_by ? wordsOf(one.closed_by) : home.searched ? "no way back is written" : "nothing that is shown");

  // Who goes on past what is not done stands elsewhere and has left things as they were: no stop was proved for that.
  const GONE_PAST = { words: "not computed: a task was left", bad: true };
  const gonePast = () => make("p", "Steps of a task that was left are not done. What is open now, how it is closed and the way home can't be told from the last finished steps: go by the case, and by what was seen.");

  function open({ home }) {
    if (home.left) return { ...GONE_PAST, parts: [gonePast()] };
    if (!home.known) return { words: "not computed ahead", parts: [make("p", "These last steps are too far off the plan, or what closes up waits for the clock. “briefgen now” computes it.")] };
    const stuck = home.open.filter((one) => !one.closed_by).length;
    const words = home.open.length ? `${count(home.open.length, "thing")}; ${count(home.closing.length, "written step")} to close up${stuck ? `; ${home.searched ? "no way back is written for" : "what is shown leaves open"} ${stuck}` : ""}` : "nothing";
    const parts = home.searched ? [] : [make("p", "Too much is open at once to try every way of closing it: what is shown is a way as written, and there may be a quicker one.", { class: "bg-note" })];
    parts.push(table("What is open now", ["Open", "How", "Closed by"], home.open.map((one) => [one.what, one.how, closers(home, one)]), "nothing."));
    parts.push(table("The written way back", ["Step", "Begins", "Ends"], home.closing.map((one) => [`${day.back[one.step].who}: ${wordsOf(one.step)}`, `+${clock(one.begins_s)}`, `+${clock(one.ends_s)}`]), "nothing is to close."));
    return { words, bad: stuck > 0, parts };
  }

  function ways({ home }) {
    if (home.left) return { ...GONE_PAST, parts: [gonePast()] };
    const far = (seconds) => (seconds === null ? "no way home" : span(seconds)), bare = Object.entries(home.bare_s);
    const each = bare.map(([id, seconds]) => `${nameOf(id)} ${far(seconds)}`).join(", ") || "nobody is outside";
    return { words: `at once ${each}; all closed first ${home.known ? span(home.all_s) : "not computed ahead"}`,
      bad: bare.some(([, seconds]) => seconds === null), parts: [make("p", "At once leaves all as it is. Both are counted from now, and at most so long. Whoever is in a step that changes something brings it to its end first.")] };
  }

  function supplies(its) {
    const rows = its.supplies.map((one) => [`${nameOf(one.person)}, ${one.supply.replaceAll("-", " ")}`,
      ...[one.now, one.end, one.keeps].map((amount) => `${amount.toFixed(2)} ${one.unit}`), one.reserve_s === null ? "never" : clock(one.reserve_s)]);
    const short = its.supplies.filter((one) => one.short), first = its.supplies.filter((one) => one.reserve_s !== null).sort((one, other) => one.reserve_s - other.reserve_s)[0];
    const said = (one) => `${nameOf(one.person)}’s ${one.supply.replaceAll("-", " ")}`;
    const words = short.length ? `RESERVE NEEDED: ${short.map(said).join(", ")}` : first ? `reserves whole; ${said(first)} is the first at its reserve, at ${clock(first.reserve_s)}` : "none";
    return { words, bad: short.length > 0,
      parts: [table("Supplies (computed, not read)", ["Supply", "Left now", "Left in the end", "Reserve", "Reserve touched"], rows, "none.")] };
  }

  function light(its) {
    const dark = its.dark.map(wordsOf), words = lightWords(its.light).replace("Light: ", "").replace(/\.$/, "");
    return { words: dark.length ? `${words}; ${count(dark.length, "step")} that need${dark.length === 1 ? "s" : ""} light in the dark` : words, bad: dark.length > 0,
      parts: [dark.length ? list(dark) : make("p", "No work that needs light falls into the dark.")] };
  }

  function list(rows, tag = "ul") {
    const made = make(tag, "");
    rows.forEach((words) => made.append(make("li", words)));
    return made;
  }

  const timed = (one, { who, words }) => `+${clock(one.begins_s)} to +${clock(one.ends_s)}, ${who}: ${words}`;

  /** What the crew is told of a stop: the written way back, or that none is written. */
  function stopParts(its, at) {
    const { home } = its;
    if (home.left) return [make("p", `Stop called at ${clock(at)}.`), gonePast()];
    if (!home.known) return [make("p", `Stop called at ${clock(at)}. ${ways(its).words}.`), make("p", "The way back was not computed ahead: these last steps are too far off the plan, or what closes up waits for the clock.")];
    const stuck = home.open.filter((one) => !one.closed_by).map((one) => `${one.what}, ${one.how}: ${closers(home, one)}.`);
    const steps = home.closing.map((one) => timed(one, day.back[one.step]));
    return [make("p", `Stop called at ${clock(at)}: ${steps.length ? `the written way back, all home after at most ${span(home.all_s)}` : `nothing is to close, all home after at most ${span(home.all_s)}`}.`),
      ...(steps.length ? [list(steps, "ol")] : []), ...(stuck.length ? [list(stuck)] : [])];
  }

  /** What the crew is told of a case: its steps, how the plan goes on, and what follows in time. `then` is the answer after it. */
  function caseParts(its, since, then) {
    const steps = its.steps.map((one) => timed(one, one));
    return [make("p", `“${wordsOf(day.steps[its.step].key)}” did not go as planned: ${its.when}`), list(steps, "ol"),
      make("p", `Then ${its.then}. It takes ${span(its.seconds)}, until ${clock(since + its.seconds)}.`),
      make("p", `${lateness(then)} By itself the case costs the planned sortie at most ${span(its.later_s)}.${its.skipped.length ? " Steps that fall away later on still count here, so that it may end sooner." : ""}`)];
  }

  root.briefgenDay.words = { clock, span, make, sentence, stopParts, caseParts, rows: { out, fits, open, home: ways, supplies, light } };
})();
