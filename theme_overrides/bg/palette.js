/* The reader's choice of palette, before anything is painted; the theme's script keeps it. One file for the whole site. */
(() => {
  const colour = __md_get("__palette")?.color
  if (!colour) return
  if (colour.media === "(prefers-color-scheme)") {
    const wanted = matchMedia("(prefers-color-scheme: light)").matches ? "light" : "dark"
    const option = document.querySelector(`[data-md-color-media="(prefers-color-scheme: ${wanted})"]`)
    for (const key of ["media", "scheme", "primary", "accent"]) colour[key] = option?.getAttribute(`data-md-color-${key}`) ?? colour[key]
  }
  for (const [key, value] of Object.entries(colour)) document.body.setAttribute(`data-md-color-${key}`, value)
})()
