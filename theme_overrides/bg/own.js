/* Who reads is chosen once and kept in this browser; from then on the bar of every page leads to what is theirs. */
(() => {
  const bar = document.querySelector("[data-own]"), readers = window.briefgenReaders || []
  if (!bar || !readers.length) return
  const name = `${__md_scope.pathname}.own`
  const MOST = 6
  const all = bar.querySelector("a")
  const address = page => new URL(page, __md_scope)
  const isHere = page => address(page).pathname === location.pathname
  const make = (tag, attributes = {}, text = "") => {
    const element = document.createElement(tag)
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value)
    element.textContent = text
    return element
  }
  function link(words, page, attributes = {}) {
    const made = make("a", { href: address(page).href, ...attributes }, words)
    if (isHere(page)) made.setAttribute("aria-current", "page")
    return made
  }
  function list(links, place) {
    const made = make("ul", { class: place })
    for (const one of links) made.append(make("li"))
    links.forEach((one, number) => made.children[number].append(one))
    return made
  }

  /* Whoever opens an own page reads as that person, also where a browser keeps nothing. */
  function chosen() {
    for (const [reader, , ways] of readers)
      for (const [sortie, , links] of ways) if (isHere(links[0][1])) return { reader, sortie }
    try { return JSON.parse(localStorage.getItem(name)) || {} } catch { return {} }
  }
  function keep(reader, sortie) {
    try { localStorage.setItem(name, JSON.stringify({ reader, sortie })) } catch { /* a browser that keeps nothing */ }
  }

  /* Nobody has been chosen: the names themselves, where there are few. */
  function offer() {
    if (readers.length > MOST) return
    const links = readers.map(([reader, words, ways]) => link(words, ways[0][2][0][1], { "data-reader": reader, "data-sortie": ways[0][0] }))
    bar.append(list(links, "bg-bar__ways"))
  }

  /* Another sortie opens where this one was looked at: its map for the map, its stops for the stops. */
  function others(reader, ways, links) {
    const at = Math.max(0, links.findIndex(([, page]) => isHere(page)))
    const same = rows => (rows.find(([words]) => words === links[at][0]) || rows[0])[1]
    return ways.map(([sortie, words, rows]) => {
      const made = link(words, rows === links ? rows[0][1] : same(rows), { "data-reader": reader, "data-sortie": sortie })
      if (rows === links) made.setAttribute("aria-current", "true")
      return made
    })
  }

  function show([reader, words, ways], [, label, links]) {
    const who = make("details", { class: "bg-bar__who" }), head = make("summary")
    head.append(make("b", {}, words), " ", make("span", {}, label))
    all.textContent = "Somebody else"
    who.append(head, list([...others(reader, ways, links), all], "bg-bar__choice"))
    bar.replaceChildren(who, list(links.map(([what, page]) => link(what, page)), "bg-bar__ways"))
    document.documentElement.dataset.reader = reader
    who.addEventListener("keydown", event => {
      if (event.key !== "Escape" || !who.open) return
      who.open = false
      head.focus()
    })
    document.addEventListener("pointerdown", event => { if (!who.contains(event.target)) who.open = false })
    who.addEventListener("focusout", event => { if (event.relatedTarget && !who.contains(event.relatedTarget)) who.open = false })
  }

  const now = chosen(), reader = readers.find(([key]) => key === now.reader)
  const ways = reader?.[2].find(([sortie]) => sortie === now.sortie) || reader?.[2][0]
  if (ways) show(reader, ways)
  else offer()
  document.addEventListener("click", event => {
    const link = event.target.closest?.("a[data-reader]")
    if (link) keep(link.dataset.reader, link.dataset.sortie)
  })
})()
