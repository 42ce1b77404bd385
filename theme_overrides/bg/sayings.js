/* What the theme's script says aloud or shows, in our own words: once for the site, put into each page's settings. */
(() => {
  const settings = document.getElementById("__config")
  settings.textContent = JSON.stringify({ ...JSON.parse(settings.textContent), translations: {
    "clipboard.copy": "Copy", "clipboard.copied": "Copied",
    "search.result.placeholder": "Type a word: a tool, a connector, a place",
    "search.result.none": "Nothing found", "search.result.one": "Found on 1 page", "search.result.other": "Found on # pages",
    "search.result.more.one": "1 more place on this page", "search.result.more.other": "# more places on this page",
    "search.result.term.missing": "Not there", "select.version": "",
  } })
})()
