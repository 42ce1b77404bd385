/* The search: a field with a list of what is found (WAI-ARIA Authoring Practices, combobox with a listbox). Names come
   from one script of the site, loaded when they are first asked for; what is found is only ever set as text. */
(() => {
  const root = document.querySelector("[data-find]")
  if (!root) return
  const MOST = 14
  const make = (tag, attributes = {}, text = "") => {
    const element = document.createElement(tag)
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value)
    element.textContent = text
    return element
  }
  const button = (icon, words, place) => {
    const made = make("button", { type: "button", class: `bg-top__button ${place}` })
    made.append(make("span", { class: "bg-icon", "data-icon": icon, "aria-hidden": "true" }), make("span", { class: "bg-sr" }, words))
    return made
  }

  /* What is compared: small letters without accents, word by word. */
  const wordsOf = text => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().split(/[^\p{L}\p{N}]+/u).filter(Boolean)

  /* Whether two words differ by one letter: another, one more, one less, or two exchanged. */
  function near(one, other) {
    let at = 0
    while (at < one.length && one[at] === other[at]) at++
    const a = one.slice(at), b = other.slice(at)
    return a.slice(1) === b.slice(1) || a.slice(1) === b || a === b.slice(1)
      || (a[0] === b[1] && a[1] === b[0] && a.slice(2) === b.slice(2))
  }
  /* A code of letters and numbers is right or wrong; a word of four letters can be mistyped. */
  const mayErr = word => word.length >= 4 && !/\d/.test(word)

  /* How well a word is met: 1 in a name, 2 as its beginning, 3 in the text, 4 mistyped; 9 not at all. */
  function met(word, row) {
    if (row.names.includes(word)) return 1
    if (row.names.some(name => name.startsWith(word))) return 2
    if (row.words.some(name => name.startsWith(word))) return 3
    if (mayErr(word) && row.names.some(name => near(word, name))) return 4
    if (mayErr(word) && row.words.some(name => near(word, name))) return 5
    return 9
  }
  /* The order of what is found: things by their names, tasks and steps by theirs, then texts, then what was mistyped. */
  const ORDER = [[0, 1, 2, 6, 12, 15], [1, 3, 3.5, 7, 13, 16], [3, 4, 5, 8, 14, 17], [9, 9, 9, 10, 18, 19]]
  function weight(asked, row) {
    const worst = Math.max(...asked.map(word => met(word, row)))
    if (worst === 9) return Infinity
    return ORDER[row.late][row.called.includes(asked.join("")) ? 0 : worst]
  }

  function prepare({ kinds, pages, places, rows }) {
    return rows.map(([kind, name, page, anchor = "", where = 0, also = "", words = ""]) => {
      const called = [name, ...also.split("|").filter(Boolean)]
      return {
        name, kind: kinds[kind][0], late: kinds[kind][1], where: places[where], called: called.map(one => wordsOf(one).join("")),
        names: called.flatMap(wordsOf), words: wordsOf(words), length: name.length,
        href: new URL(pages[page] + (anchor && `#${encodeURIComponent(anchor)}`), __md_scope).href,
      }
    })
  }
  function search(rows, text) {
    const asked = wordsOf(text)
    if (!asked.length) return []
    return rows.map(row => ({ row, weight: weight(asked, row) })).filter(one => one.weight < Infinity)
      .sort((a, b) => a.weight - b.weight || a.row.length - b.row.length).map(one => one.row)
  }

  let loading
  const load = () => loading ??= new Promise((done, failed) => {
    const script = make("script", { src: new URL("briefgen/find-names.js", __md_scope).href })
    script.onload = () => done(prepare(window.briefgenNames))
    script.onerror = () => failed(new Error("no names"))
    document.head.append(script)
  })

  const opener = button("search", "Search", "bg-top__find")
  opener.dataset.opens = "find"
  opener.setAttribute("aria-expanded", "false")
  const sheet = make("div", { class: "bg-find__sheet" })
  const field = make("input", { type: "text", class: "bg-find__field", role: "combobox", "aria-label": "Search the briefing",
    placeholder: "Search the briefing", "aria-expanded": "false", "aria-controls": "bg-found", "aria-autocomplete": "list",
    autocomplete: "off", autocapitalize: "off", spellcheck: "false" })
  const close = button("close", "Close the search", "bg-find__close")
  const out = make("div", { class: "bg-find__out", hidden: "" })
  const said = make("p", { class: "bg-find__said", role: "status" })
  const list = make("ul", { id: "bg-found", class: "bg-find__list", role: "listbox", "aria-label": "Found" })
  const names = root.querySelector("a")
  names.className = "bg-find__all"
  names.textContent = "All names"
  out.append(said, list, names)
  sheet.append(field, close, out)
  root.append(opener, sheet)

  let found = [], active = -1, turn = 0

  function option(row, number) {
    const line = make("li", { id: `bg-found-${number}`, class: "bg-find__one", role: "option", "aria-selected": "false" })
    line.append(make("span", { class: "bg-find__name" }, row.name), " ", make("span", { class: "bg-find__where" }, row.where ? `${row.kind} · ${row.where}` : row.kind))
    line.addEventListener("click", () => go(row))
    return line
  }
  function pick(number) {
    list.children[active]?.setAttribute("aria-selected", "false")
    active = number
    const line = list.children[active]
    if (!line) return field.removeAttribute("aria-activedescendant")
    line.setAttribute("aria-selected", "true")
    field.setAttribute("aria-activedescendant", line.id)
    line.scrollIntoView({ block: "nearest", behavior: "instant" })
  }
  function go(row) {
    shut()
    location.href = row.href
  }
  async function show() {
    const mine = ++turn, text = field.value
    let rows
    try { rows = await load() } catch { rows = [] }
    if (mine !== turn) return
    found = search(rows, text).slice(0, MOST)
    const all = search(rows, text).length
    list.replaceChildren(...found.map(option))
    list.hidden = !found.length
    pick(-1)
    const asked = wordsOf(text).length > 0
    said.textContent = !asked ? "Type a name: a person, a place, a connector, a tool" : !all ? "Nothing found" : all > found.length ? `${found.length} of ${all} found` : `${all} found`
    out.hidden = false
    field.setAttribute("aria-expanded", String(found.length > 0))
  }
  function hide() {
    turn++
    out.hidden = true
    field.setAttribute("aria-expanded", "false")
    pick(-1)
  }
  function open() {
    root.classList.add("bg-find--open")
    opener.setAttribute("aria-expanded", "true")
    field.focus()
  }
  function shut() {
    hide()
    root.classList.remove("bg-find--open")
    opener.setAttribute("aria-expanded", "false")
  }
  const KEYS = {
    ArrowDown: () => found.length && !out.hidden ? pick((active + 1) % found.length) : show(),
    ArrowUp: () => { if (found.length) pick(active > 0 ? active - 1 : found.length - 1) },
    Enter: async () => { if (out.hidden || !found.length) await show(); const row = found[Math.max(active, 0)]; if (row) go(row) },
    Escape: () => {
      if (field.value && !out.hidden) { field.value = ""; hide() } else { shut(); if (opener.offsetParent) opener.focus(); else field.blur() }
    },
  }
  field.addEventListener("keydown", event => {
    if (!KEYS[event.key] || event.isComposing) return
    event.preventDefault()
    event.stopPropagation()
    KEYS[event.key]()
  })
  field.addEventListener("keyup", event => event.stopPropagation())
  field.addEventListener("input", show)
  field.addEventListener("focus", show)
  list.addEventListener("mousedown", event => event.preventDefault())
  opener.addEventListener("click", open)
  close.addEventListener("click", () => { field.value = ""; shut(); if (opener.offsetParent) opener.focus() })
  root.addEventListener("focusout", event => { if (!root.contains(event.relatedTarget)) shut() })
  document.addEventListener("keydown", event => {
    const writing = event.target.closest?.("input, textarea, select, [contenteditable]")
    if (event.key !== "/" || writing || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    open()
  })
})()
