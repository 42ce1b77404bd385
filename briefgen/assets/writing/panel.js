/* The panel stays as its reader left it, until it has something new to say; Escape shuts it. */
(() => {
  const panel = document.querySelector("aside.bg-panel"), fold = panel.querySelector("details"), name = "bg-panel"
  const kept = (() => { try { return JSON.parse(sessionStorage.getItem(name)) } catch { return null } })()
  if (kept?.key === panel.dataset.key) fold.open = kept.open
  fold.addEventListener("toggle", () => {
    try { sessionStorage.setItem(name, JSON.stringify({ key: panel.dataset.key, open: fold.open })) } catch { /* it opens anew, then */ }
  })
  panel.addEventListener("keydown", event => {
    if (event.key !== "Escape" || !fold.open) return
    fold.open = false
    panel.querySelector("summary").focus()
    event.stopPropagation()
  })
})()
