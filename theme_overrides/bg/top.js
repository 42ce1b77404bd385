/* The parts of the page's head that only a script can serve, made before anything is painted: opener, palettes. */
(() => {
  const icon = name => `<span class="bg-icon" data-icon="${name}" aria-hidden="true"></span>`
  const sign = (name, words) => `${icon(name)}<span class="bg-sr">${words}</span>`

  /* One hidden radio a palette (the theme's script listens to them) and the button that leads to the next. */
  function makePalettes(form) {
    const palettes = form.dataset.palettes.split("|").map(one => one.split(";"))
    palettes.forEach(([media, scheme, name], number) => {
      const radio = Object.assign(document.createElement("input"), { type: "radio", name: "__palette", id: `__palette_${number}`, hidden: true })
      radio.setAttribute("aria-label", name)
      for (const [key, value] of Object.entries({ media, scheme, primary: "custom", accent: "custom" })) radio.setAttribute(`data-md-color-${key}`, value)
      const button = Object.assign(document.createElement("button"), { type: "button", className: "bg-top__button", hidden: true })
      button.dataset.palette = `__palette_${(number + 1) % palettes.length}`
      button.innerHTML = sign(scheme === "slate" ? "sun" : "moon", "")
      button.lastChild.textContent = name
      form.append(radio, button)
    })
  }

  /* The reader's choice of palette; the theme's script keeps it. */
  function choosePalette() {
    const colour = __md_get("__palette")?.color
    if (!colour) return
    if (colour.media === "(prefers-color-scheme)") {
      const wanted = matchMedia("(prefers-color-scheme: light)").matches ? "light" : "dark"
      const option = document.querySelector(`[data-md-color-media="(prefers-color-scheme: ${wanted})"]`)
      for (const key of ["media", "scheme", "primary", "accent"]) colour[key] = option?.getAttribute(`data-md-color-${key}`) ?? colour[key]
    }
    for (const [key, value] of Object.entries(colour)) document.body.setAttribute(`data-md-color-${key}`, value)
  }

  /* A button that opens the drawer; frame.js wires it. */
  function opener(name, words, icon, place) {
    const button = Object.assign(document.createElement("button"), { type: "button", className: `bg-top__button bg-top__${place}` })
    button.dataset.opens = name
    button.setAttribute("aria-expanded", "false")
    button.innerHTML = sign(icon, words)
    return button
  }

  for (const form of document.querySelectorAll("[data-palettes]")) makePalettes(form)
  document.querySelector(".bg-top__label").before(opener("drawer", "Pages", "menu", "menu"))
  choosePalette()
})()
