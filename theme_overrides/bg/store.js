/* What the theme's scripts ask of every page: the folder of the site, and what this browser keeps for it. */
(() => {
  const site = new URL("..", document.currentScript.src)
  const named = (key, scope) => `${scope.pathname}.${key}`
  window.__md_scope = site
  window.__md_hash = text => [...text].reduce((sum, letter) => ((sum << 5) - sum + letter.charCodeAt(0)) | 0, 0)
  window.__md_get = (key, store = localStorage, scope = site) => JSON.parse(store.getItem(named(key, scope)))
  window.__md_set = (key, value, store = localStorage, scope = site) => {
    try { store.setItem(named(key, scope), JSON.stringify(value)) } catch { /* a browser that keeps nothing */ }
  }
})()
