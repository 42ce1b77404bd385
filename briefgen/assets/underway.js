/* The day as it goes: the same computation as briefgen/proof/deciding/underway, number for number, and a rehearsal on top
   of it. Nothing is sent anywhere; the run is kept in this browser alone. Without this script the page has its table. */
(() => {
  const root = document.querySelector("[data-day]");
  if (!root) return;
  const day = JSON.parse(root.querySelector("[data-day-data]").textContent);
  /* What rows share is written once. */
  const records = ({ names, rows }) => rows.map((row) => Object.fromEntries(names.map((name, at) => [name, row[at]])));
  for (const name of ["people", "steps", "supplies", "stops", "opens"]) day[name] = records(day[name]);
  const ROUNDING = 1e-6;
  const keyOf = (tasks) => [...tasks].sort().join(" ");
  const variants = new Map(day.variants.map((one) => [keyOf(one.left), one]));
  const outside = day.people.map((one) => day.homes[one.id]);
  // What no situation changes is worked out once: everybody's seat at a step, and what a step waits for in a variant.
  const seats = day.flows.map((flow) => new Map(flow.map((index, seat) => [index, seat])));
  const waits = new Map();

  /* -- the computation; a situation is {now, people: [[steps finished, since or null], …]} -- */

  const sinceOf = (at, person) => at.people[person][1] ?? at.now;
  const doneOf = (at) => new Set(day.flows.flatMap((flow, person) => flow.slice(0, at.people[person][0])));

  function contradictions(at) {
    const found = [];
    day.flows.forEach((flow, person) => flow.slice(0, at.people[person][0]).forEach((index) => {
      for (const first of [index, ...day.steps[index].earlier]) for (const other of day.steps[first].people)
        if (seats[other].get(first) >= at.people[other][0]) found.push({ person, step: index, other, first });
    }));
    return found;
  }

  function overBy(at, index) {
    return Math.min(...day.steps[index].people.map((person) => {
      const since = sinceOf(at, person), last = day.flows[person][at.people[person][0] - 1];
      const late = Math.max(0, since - day.steps[last].end);
      return last === index ? since : Math.min(since, day.steps[index].end + late);
    }));
  }

  function ahead(at, variant) {
    const starts = new Map(variant.sequence.map((index) => [index, 0]));
    const raise = (index, start) => starts.has(index) && starts.set(index, Math.max(starts.get(index), start));
    variant.chains.forEach((row, person) => {
      if (row.length && !at.people[person][0]) raise(row[0][0], sinceOf(at, person) + row[0][1]);
    });
    day.people.forEach((one, person) => {
      if (one.free && at.people[person][1] === null) for (const index of day.flows[person]) raise(index, at.now);
    });
    return starts;
  }

  function before(variant) {
    if (waits.has(variant)) return waits.get(variant);
    const found = new Map(variant.sequence.map((index) => [index, []]));
    waits.set(variant, found);
    for (const row of variant.chains)
      for (let seat = 1; seat < row.length; seat += 1) found.get(row[seat][0]).push([row[seat - 1][0], row[seat][1]]);
    for (const [first, second] of variant.links) found.get(second).push([first, 0]);
    return found;
  }

  /** When a step's gate opens for whoever is ready, and by when all must be ready for a beginning by then. */
  function opens(gate, ready) {
    const from = Math.max(ready, gate.earliest);
    return gate.openings ? Math.max(from, gate.openings.find((one) => one >= from - ROUNDING) ?? gate.end) : from;
  }
  function readyBy(gate, start) {
    const last = gate.openings?.findLast((one) => one <= start + ROUNDING);
    return last !== undefined && last >= gate.earliest ? last : start;
  }

  /** By when each step that is left must be over so that all is over by then. */
  function latestEnds(times, earlier, finish) {
    const latest = new Map([...times.keys()].map((index) => [index, finish]));
    for (const index of [...times.keys()].reverse()) {
      const start = latest.get(index) - day.steps[index].seconds;
      const ready = day.gates[index] ? readyBy(day.gates[index], start) : start;
      for (const [first, seconds] of earlier.get(index))
        if (latest.has(first)) latest.set(first, Math.min(latest.get(first), ready - seconds));
    }
    return latest;
  }

  function forecast(at, variant) {
    const done = doneOf(at), starts = ahead(at, variant), earlier = before(variant), times = new Map();
    for (const index of variant.sequence) {
      if (done.has(index)) continue;
      let start = starts.get(index);
      for (const [first, seconds] of earlier.get(index))
        start = Math.max(start, (done.has(first) ? overBy(at, first) : times.get(first)[1]) + seconds);
      if (day.gates[index]) start = opens(day.gates[index], start);
      times.set(index, [start, Math.max(at.now, start + day.steps[index].seconds)]);
    }
    const finish = times.size ? Math.max(...[...times.values()].map(([, end]) => end))
      : Math.max(...day.people.map((_, person) => sinceOf(at, person)));
    const latest = latestEnds(times, earlier, finish);
    const critical = byStart(times).filter((index) => latest.get(index) - times.get(index)[1] < ROUNDING);
    const dark = [...times.keys()].sort((one, other) => one - other).filter((index) => day.steps[index].light
      && day.nights.some(([dusk, dawn]) => Math.min(times.get(index)[1], dawn) - Math.max(times.get(index)[0], dusk) > ROUNDING));
    return { variant, times, finish, critical, dark };
  }

  const inOrder = (one, other) => (one < other ? -1 : one > other ? 1 : 0);
  const byBegin = (one, other) => day.begins[one] - day.begins[other] || inOrder(one, other);
  const byStart = (times) => [...times.keys()].sort((one, other) => times.get(one)[0] - times.get(other)[0] || one - other);
  const rate = (its, watts) => its.second + its.joule * watts;

  function along(line, seconds) {
    const right = line.findIndex(([time]) => time > seconds);
    if (right === 0) return line[0][1];
    if (right < 0) return line[line.length - 1][1];
    const [[t0, v0], [t1, v1]] = [line[right - 1], line[right]];
    return v0 + (v1 - v0) * (seconds - t0) / (t1 - t0);
  }

  function spans(its, ways, since) {
    const found = [];
    let clock = since;
    for (const [index, seconds] of ways.variant.chains[its.person]) {
      if (!ways.times.has(index)) continue;
      const [start, end] = ways.times.get(index), there = Math.min(start, clock + seconds);
      found.push([clock, there, day.wayWatts], [there, start, day.restWatts], [start, end, day.steps[index].watts]);
      clock = end;
    }
    return [...found, [clock, Math.max(clock, ways.finish), day.restWatts]];
  }

  function touched(its, amount, start, end, watts) {
    if (amount <= its.keeps) return start;
    const each = rate(its, watts);
    return amount - each * (end - start) <= its.keeps && each > 0 ? start + (amount - its.keeps) / each : null;
  }

  function supply(at, ways, its) {
    const count = at.people[its.person][0], since = sinceOf(at, its.person);
    const planned = count ? day.steps[day.flows[its.person][count - 1]].end : 0;
    let amount = along(its.left, planned) - rate(its, its.mean) * Math.max(0, since - planned), now = null, reached = null;
    for (const [start, end, watts] of spans(its, ways, since)) {
      reached ??= touched(its, amount, start, end, watts);
      if (now === null && end >= at.now) now = amount - rate(its, watts) * Math.max(0, at.now - start);
      amount -= rate(its, watts) * (end - start);
    }
    const mean = rate(its, its.mean);
    if (reached === null && mean > 0) reached = Math.max(ways.finish, since) + (amount - its.keeps) / mean;
    return {
      person: day.people[its.person].id, supply: its.name, unit: its.unit, now: (now ?? amount) / its.factor,
      end: amount / its.factor, keeps: its.keeps / its.factor, reserve_s: reached,
      short: amount < its.keeps - 1e-9 * Math.max(1, its.holds),
    };
  }

  function takenUp(at, ways) {
    const tasks = new Set([...doneOf(at)].map((index) => day.steps[index].task));
    day.flows.forEach((flow, person) => {
      const [count, since] = at.people[person], index = flow[count];
      if (count < flow.length && (since === null || since < at.now) && (outside[person] || ways.times.get(index)[0] <= at.now))
        tasks.add(day.steps[index].task);
    });
    return tasks;
  }

  function worse(at, whole, other, supplies) {
    if (other.dark.some((index) => !whole.dark.includes(index)) || other.finish > Math.max(whole.finish, day.usable)) return true;
    return day.supplies.some((its, number) => !supplies[number].short && supply(at, other, its).short);
  }

  /** The tasks left out, and what only serves them with them; what is begun stays. */
  function leaving(leftOut, begun) {
    const gone = new Set(leftOut), serving = Object.entries(day.serves).filter(([task]) => !begun.has(task));
    for (let more = true; more;) {
      const fresh = serving.filter(([task, row]) => !gone.has(task) && row.every((one) => gone.has(one)));
      fresh.forEach(([task]) => gone.add(task));
      more = fresh.length > 0;
    }
    return gone;
  }

  function omissions(at, whole, supplies) {
    const done = doneOf(at), begun = takenUp(at, whole), found = [];
    let core = [], gone = new Set(), last = whole;
    for (const unit of day.units) {
      const no = (why) => found.push({ tasks: unit, gains_s: 0, finish_s: 0, why_not: why });
      const left = leaving([...core, ...unit], begun), variant = variants.get(keyOf(left));
      if (day.steps.every((step, index) => !unit.includes(step.task) || done.has(index))) no("done");
      else if (unit.some((task) => begun.has(task))) no("begun");
      else if (!variant) no("unproved");
      else {
        const without = forecast(at, variant);
        if (worse(at, whole, without, supplies)) { no("worse"); continue; }
        const along = [...left].filter((task) => task in day.begins && !gone.has(task) && !unit.includes(task)).sort(byBegin);
        [core, gone] = [[...core, ...unit], left];
        found.push({ tasks: [...unit, ...along], gains_s: last.finish - without.finish, finish_s: without.finish, why_not: null });
        last = without;
      }
    }
    return found;
  }

  function most(later, stays) {
    const proved = (left) => variants.has(keyOf(leaving(left, stays)));
    if (proved(later)) return later;
    let taken = [];
    for (const task of [...later].sort((one, other) => day.begins[other] - day.begins[one] || inOrder(one, other)))
      if (proved([...taken, task])) taken = [...taken, task];
    return taken;
  }

  function due(at, ways) {
    const begun = new Set([...doneOf(at)].map((index) => day.steps[index].task)), up = takenUp(at, ways);
    for (const [index, [start]] of ways.times) if (start < at.now) begun.add(day.steps[index].task);
    const fresh = [...new Set([...ways.times.keys()].map((index) => day.steps[index].task))].filter((task) => !begun.has(task));
    return fresh.sort(byBegin).map((task) => {
      const earlier = Object.keys(day.begins).filter((one) => day.begins[one] < day.begins[task]), stays = new Set([task, ...earlier, ...up]);
      const later = day.optional.filter((one) => one !== task && !up.has(one) && day.begins[one] >= day.begins[task] && !day.serves[task]?.includes(one));
      const left = leaving(most(later, stays), stays);
      const mine = [...ways.times.keys()].filter((index) => day.steps[index].task === task);
      const variant = variants.get(keyOf(left)), latest = Math.min(...mine.map((index) => variant.latest[index]));
      const begins = Math.min(...mine.map((index) => ways.times.get(index)[0]));
      return { task, begins_s: begins, latest_s: latest, fits: latest >= begins, left_out: [...left].sort() };
    });
  }

  function light(now) {
    if (!day.nights.length) return { night: null, until_s: null };
    for (const [dusk, dawn] of day.nights)
      if (now < dawn) return now >= dusk ? { night: true, until_s: dawn } : { night: false, until_s: dusk };
    return { night: false, until_s: null };
  }

  const inWork = (at, ways) => byStart(ways.times).filter((index) => ways.times.get(index)[0] < at.now);
  const isNext = (at, index) => day.steps[index].people.every((person) => day.flows[person][at.people[person][0]] === index);

  function home(at, ways) {
    const ended = new Set(inWork(at, ways).filter((index) => !day.steps[index].quiet && isNext(at, index)));
    const cut = day.flows.map((flow, person) => at.people[person][0] + (flow.slice(at.people[person][0]).some((one) => ended.has(one)) ? 1 : 0));
    const wait = Math.max(0, ...[...ended].map((index) => ways.times.get(index)[1] - at.now)), bare = {};
    const far = (seconds) => (seconds === null ? Infinity : seconds), finite = (seconds) => (Number.isFinite(seconds) ? seconds : null);
    let back = 0;
    day.people.forEach(({ id }, person) => {
      const homes = outside[person], [count, since] = at.people[person];
      if (!homes) return;
      const gone = count < day.flows[person].length && (since === null || since < at.now);
      bare[id] = finite(Math.max(count ? far(homes[count - 1][0]) : 0, gone ? far(homes[count][1]) : 0));
      back = Math.max(back, gone && cut[person] === count ? far(homes[count][2]) : 0);
    });
    const stop = day.stops[day.cuts[cut.join(" ")]];
    const known = stop ? { ...stop, open: stop.open.map((one) => day.opens[one]),
      closing: stop.closing.map(([step, begins, ends]) => ({ step: day.closers[step], begins_s: begins, ends_s: ends })) } : null;
    return { cut, wait_s: wait, back_s: finite(back), bare_s: bare, known: Boolean(stop),
      all_s: known && finite(wait + back + far(known.stop_s)), ...known };
  }

  function answer(at) {
    const whole = forecast(at, variants.get("")), named = (row) => row.map((index) => day.steps[index].key);
    const supplies = day.supplies.map((its) => supply(at, whole, its));
    return {
      now_s: at.now, late_s: whole.finish - day.finish, finish_s: whole.finish, spare_s: day.usable - whole.finish,
      in_work: named(inWork(at, whole)), critical: named(whole.critical),
      steps: byStart(whole.times).map((index) => ({ step: day.steps[index].key, begins_s: whole.times.get(index)[0], ends_s: whole.times.get(index)[1] })),
      omissions: omissions(at, whole, supplies), due: due(at, whole), dark: named(whole.dark), light: light(at.now),
      supplies, home: home(at, whole),
    };
  }

  root.briefgenDay = { day, answer, contradictions };
})();
