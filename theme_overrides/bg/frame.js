/* Behaviour of the frame. A page reads well without it: everything here opens, shuts, names or lights something up. */
(() => {
  const all = (selector, root = document) => [...root.querySelectorAll(selector)]
  const box = name => document.querySelector(`[data-md-toggle="${name}"]`)

  function setToggle(name, open) {
    if (box(name).checked !== open) box(name).click()
  }

  /* The drawer: buttons say whether it is open, Escape shuts, focus goes in and comes back. */
  function wireToggle(name, target) {
    const openers = all(`[data-opens="${name}"]`)
    const show = () => openers.forEach(button => button.setAttribute("aria-expanded", String(box(name).checked)))
    openers.forEach(button => button.addEventListener("click", () => {
      setToggle(name, !box(name).checked)
      if (box(name).checked) requestAnimationFrame(() => target()?.focus())
    }))
    all(`[data-shuts="${name}"]`).forEach(button => button.addEventListener("click", () => {
      setToggle(name, false)
      openers.find(opener => opener.offsetParent)?.focus()
    }))
    box(name).checked = false
    box(name).addEventListener("change", show)
    show()
  }

  function shutDrawerWithEscape(event) {
    if (event.key !== "Escape" || !box("drawer").checked) return
    setToggle("drawer", false)
    document.querySelector('[data-opens="drawer"]')?.focus()
  }

  function keepFocusInDrawer(event) {
    const drawer = document.querySelector(".md-sidebar--primary")
    const narrow = matchMedia("(max-width: 76.1875em)").matches
    if (narrow && box("drawer").checked && drawer && !drawer.contains(event.target)) setToggle("drawer", false)
  }

  function wirePalette() {
    for (const button of all("[data-palette]")) {
      button.addEventListener("click", () => {
        document.getElementById(button.dataset.palette).click()
        all("[data-palette]").find(other => !other.hidden)?.focus()
      })
      /* The theme's script acts on Enter by itself, and would take the focus with it. */
      button.addEventListener("keydown", event => { if (event.key === "Enter") event.stopPropagation() })
    }
    new MutationObserver(() => document.dispatchEvent(new CustomEvent("bg:palette")))
      .observe(document.body, { attributes: true, attributeFilter: ["data-md-color-scheme"] })
  }

  /* A link to a step brings its hazards and holds into view with it: they stand above the sentence that is linked. */
  function showWholeStep() {
    const step = document.getElementById(decodeURIComponent(location.hash.slice(1)))?.closest(".bg-step")
    if (step) scrollTo({ top: step.getBoundingClientRect().top + scrollY - document.querySelector(".bg-top").offsetHeight - 12, behavior: "instant" })
  }

  /* What scrolls sideways is reached by keyboard and has a name; what fits is no stop on the way. */
  function nameScrolling() {
    for (const element of all(".bg-table, .md-typeset__scrollwrap:not(.bg-table *), .bg-chart__stage, .bg-page pre > code")) {
      if (element.scrollWidth <= element.clientWidth + 1) {
        element.removeAttribute("tabindex")
        continue
      }
      element.tabIndex = 0
      if (element.hasAttribute("aria-labelledby") || element.hasAttribute("aria-label")) continue
      const words = (element.querySelector("caption, thead") || element).textContent.replace(/\s+/g, " ").trim()
      const name = `Scrolls sideways: ${words.slice(0, 60) || "contents"}`
      const named = all("[aria-label]").filter(other => other.getAttribute("aria-label").startsWith(name)).length
      element.setAttribute("role", "region")
      element.setAttribute("aria-label", named ? `${name}, ${named + 1}` : name)
    }
  }

  function nameTaskLists() {
    for (const check of all('.task-list-control [type="checkbox"]'))
      check.setAttribute("aria-label", check.closest("li").textContent.replace(/\s+/g, " ").trim())
  }

  /* Paper shows the folds that the reader has opened, not those that a script opens for printing. */
  function rememberOpened() {
    for (const fold of all("details")) {
      const note = () => fold.toggleAttribute("data-wanted", fold.open)
      note()
      fold.querySelector("summary")?.addEventListener("click", () => setTimeout(note))
    }
  }

  function wirePins() {
    for (const line of all(".bg-callouts > li")) {
      const pin = document.getElementById(`${line.id}-pin`)
      if (!pin) continue
      const light = on => [line, pin].forEach(element => element.classList.toggle("bg-lit", on))
      for (const element of [line, pin]) {
        element.addEventListener("pointerenter", () => light(true))
        element.addEventListener("pointerleave", () => light(false))
        element.addEventListener("focusin", () => light(true))
        element.addEventListener("focusout", () => light(false))
      }
    }
  }

  /* The whole of a figure opens over the page; without a script its link goes to it, as to any part of the page. */
  function showFigure(event) {
    const link = event.target.closest("a[data-whole]"), open = document.querySelector("dialog.bg-look[open]")
    if (link?.dataset.whole) document.getElementById(link.dataset.whole).showModal()
    else if (open && (link || event.target === open)) open.close()
    else return
    event.preventDefault()
  }

  /* The drawer's way out, which only a script can serve. */
  function addWayOut() {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "bg-top__button" })
    button.dataset.shuts = "drawer"
    button.innerHTML = '<span class="bg-icon" data-icon="close" aria-hidden="true"></span><span class="bg-sr">Close the list of pages</span>'
    document.querySelector(".bg-nav__top")?.append(button)
  }

  addWayOut()
  wireToggle("drawer", () => document.querySelector(".md-sidebar--primary a[aria-current], .md-sidebar--primary button"))
  document.addEventListener("keydown", shutDrawerWithEscape)
  document.addEventListener("focusin", keepFocusInDrawer)
  wirePalette()
  nameTaskLists()
  wirePins()
  rememberOpened()
  document.addEventListener("click", showFigure)
  all("[data-print]").forEach(button => button.addEventListener("click", () => print()))
  nameScrolling()
  addEventListener("resize", nameScrolling)
  addEventListener("load", nameScrolling)
  addEventListener("load", showWholeStep)
  addEventListener("hashchange", showWholeStep)
  document.addEventListener("toggle", nameScrolling, true)
})()
