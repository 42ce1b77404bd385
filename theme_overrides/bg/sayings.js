/* What the theme's script says aloud or shows, in our own words: once for the site, put into each page's settings. */
(() => {
  const settings = document.getElementById("__config")
  settings.textContent = JSON.stringify({ ...JSON.parse(settings.textContent), translations: {
    "clipboard.copy": "Copy", "clipboard.copied": "Copied",
    "select.version": "",
  } })
})()
