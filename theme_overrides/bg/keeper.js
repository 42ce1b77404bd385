/* The place-keeper: which steps and pages have been read, kept in this browser for this site. */
(() => {
  const name = `${typeof __md_scope === "undefined" ? "" : __md_scope.pathname}.kept`
  const all = selector => [...document.querySelectorAll(selector)]
  /* A page's key is its address in the site, so the links of the navigation need not carry it. */
  const root = typeof __md_scope === "undefined" ? "/" : __md_scope.pathname
  const pageKey = link => `page:${link.pathname.startsWith(root) ? link.pathname.slice(root.length) : link.pathname}`
  const write = (element, text) => { if (element.textContent !== text) element.textContent = text }

  function load() {
    try { return new Set(JSON.parse(localStorage.getItem(name)) || []) } catch { return new Set() }
  }
  function save(kept) {
    try { localStorage.setItem(name, JSON.stringify([...kept].sort())) } catch { /* a browser that keeps nothing still shows the marks */ }
  }

  const belongs = (key, prefix) => prefix === "" || key === prefix || key.startsWith(`${prefix}#`)
  /* A step's mark counts, the ticks of its items do not. */
  const stepsRead = (kept, prefix) => [...kept].filter(key => belongs(key, prefix) && !/#.*\//.test(key)).length

  let kept = load()

  function showCounts() {
    for (const panel of all("[data-keeper]")) {
      const read = stepsRead(kept, panel.dataset.keeper), total = Number(panel.dataset.keepTotal)
      const count = panel.querySelector("[data-keeper-count]")
      if (count) write(count, read === 0 ? "Nothing read yet" : total ? `${read} of ${total} read` : `${read} marks kept`)
      const clear = panel.querySelector("[data-keeper-clear]")
      if (clear) clear.disabled = ![...kept].some(key => belongs(key, panel.dataset.keeper))
    }
    for (const link of all("[data-kept-by]")) {
      let note = link.nextElementSibling
      if (!note?.classList.contains("bg-kept")) {
        note = Object.assign(document.createElement("span"), { className: "bg-kept" })
        link.after(" ", note)
      }
      const read = stepsRead(kept, link.dataset.keptBy)
      write(note, read ? `${read}${link.dataset.keepTotal ? ` of ${link.dataset.keepTotal}` : ""} read` : "")
    }
    for (const link of all(".bg-nav a[href]")) {
      const read = !link.hash && kept.has(pageKey(link))
      link.toggleAttribute("data-kept", read)
      const said = link.querySelector(".bg-kept-word")
      if (read && !said) link.append(Object.assign(document.createElement("span"), { className: "bg-sr bg-kept-word", textContent: ", read" }))
      else if (!read) said?.remove()
    }
    for (const count of all("[data-ticks-count]")) {
      const boxes = [...count.closest("fieldset").querySelectorAll("[type=checkbox]")]
      const left = boxes.filter(check => !check.checked).length
      write(count, left ? `${left} of ${boxes.length} to do` : `all ${boxes.length} done`)
    }
  }

  function show() {
    for (const check of all("[data-keep]")) check.checked = kept.has(check.dataset.keep)
    showCounts()
  }

  document.addEventListener("change", event => {
    const key = event.target.dataset?.keep
    if (key === undefined) return
    kept = load()
    if (event.target.checked) kept.add(key)
    else kept.delete(key)
    save(kept)
    show()
  })
  document.addEventListener("click", event => {
    const panel = event.target.closest?.("[data-keeper-clear]")?.closest("[data-keeper]")
    if (!panel) return
    kept = new Set([...load()].filter(key => !belongs(key, panel.dataset.keeper)))
    save(kept)
    show()
    const count = panel.querySelector("[data-keeper-count]")
    if (count) { count.tabIndex = -1; count.focus() }
  })
  addEventListener("storage", event => { if (event.key === name) { kept = load(); show() } })
  addEventListener("pageshow", show)
  show()
})()
