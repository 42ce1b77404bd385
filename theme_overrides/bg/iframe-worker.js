/* Search runs in a worker, and a browser starts none for a page opened from a folder. There, and only there, this
   stands in for it: the worker's script runs in a hidden frame of the page, with the same messages both ways. */
(() => {
  if (location.protocol !== "file:") return

  const load = (frame, url) => new Promise((done, failed) => {
    const script = frame.contentDocument.createElement("script")
    script.src = new URL(url, document.baseURI).href
    script.onload = done
    script.onerror = () => failed(new Error(`cannot load ${script.src}`))
    frame.contentDocument.body.append(script)
  })

  class FolderWorker extends EventTarget {
    constructor(url) {
      super()
      this.frame = document.createElement("iframe")
      this.frame.hidden = true
      this.frame.title = "Search"
      this.frame.srcdoc = "<!doctype html><html lang=en><title>Search</title><body>"
      this.ready = new Promise(done => { this.frame.onload = done }).then(() => {
        const inside = this.frame.contentWindow
        inside.postMessage = data => this.dispatchEvent(new MessageEvent("message", { data }))
        inside.importScripts = (...urls) => urls.reduce((last, next) => last.then(() => load(this.frame, next)), Promise.resolve())
        return load(this.frame, url)
      })
      document.body.append(this.frame)
    }

    postMessage(data) {
      this.ready.then(() => {
        const inside = this.frame.contentWindow
        inside.dispatchEvent(new inside.MessageEvent("message", { data }))
      }, error => this.dispatchEvent(new ErrorEvent("error", { error, message: error.message })))
    }

    terminate() { this.frame.remove() }
  }

  window.Worker = FolderWorker
  window.IFrameWorker = FolderWorker
})()
