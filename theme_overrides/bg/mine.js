/* Only my steps: one touch, remembered in this browser for all pages of the site. What can hurt me stays where it stands. */
(() => {
  const choice = document.querySelector("[data-mine]"), list = document.querySelector(".bg-steps")
  if (!choice || !list) return
  const name = `${typeof __md_scope === "undefined" ? "" : __md_scope.pathname}.mine`
  const known = [...choice.querySelectorAll("input")]

  function show(person) {
    list.toggleAttribute("data-only", person !== "")
    for (const row of list.children) row.hidden = person !== "" && !(row.dataset.who || "").split(" ").includes(person)
  }
  /* Whoever follows a link to somebody else's step sees it. */
  function reveal() {
    const step = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)))?.closest(".bg-steps > li")
    if (step?.hidden) { known[0].checked = true; show(""); step.scrollIntoView() }
  }
  choice.addEventListener("change", event => {
    show(event.target.value)
    try { localStorage.setItem(name, event.target.value) } catch { /* a browser that keeps nothing */ }
  })
  let mine = ""
  try { mine = localStorage.getItem(name) || "" } catch { /* likewise */ }
  const input = known.find(one => one.value === mine)
  if (input) { input.checked = true; show(mine) }
  choice.hidden = false
  addEventListener("hashchange", reveal)
  reveal()
})()
