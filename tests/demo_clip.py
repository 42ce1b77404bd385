"""Makes the demo's clip from the demo's own drawing: `python -m tests.demo_clip`. Needs Debian's Chromium.

The quick-disconnect of the lower view is drawn picture by picture: its lever turns, its collar slides, its halves part.
Chromium's VP8 encoder (W3C WebCodecs) makes the pictures small, and the file around them is ours.
"""

from __future__ import annotations

import base64
import re

from playwright.sync_api import sync_playwright

from tests.clips import webm
from tests.demo import CONTENT

FIGURES = CONTENT / "figures"
WIDE, HIGH, RATE, SECONDS = 720, 360, 12, 14
VIEW = "130 250 780 390"
_ENCODE = """async ([wide, high, rate, pictures]) => {
  const canvas = new OffscreenCanvas(wide, high), pen = canvas.getContext("2d"), found = [];
  const encoder = new VideoEncoder({
    output: (chunk) => {
      const bytes = new Uint8Array(chunk.byteLength);
      chunk.copyTo(bytes);
      found.push([Math.round(chunk.timestamp / 1000), chunk.type === "key", btoa(String.fromCharCode(...bytes))]);
    },
    error: (error) => { throw error; },
  });
  encoder.configure({ codec: "vp8", width: wide, height: high, bitrate: 60000, framerate: rate });
  for (const [place, svg] of pictures.entries()) {
    const image = new Image();
    image.src = "data:image/svg+xml;base64," + btoa(unescape(encodeURIComponent(svg)));
    await image.decode();
    pen.drawImage(image, 0, 0, wide, high);
    const frame = new VideoFrame(canvas, { timestamp: Math.round(1e6 * place / rate) });
    encoder.encode(frame, { keyFrame: place % (4 * rate) === 0 });
    frame.close();
  }
  await encoder.flush();
  return found;
}"""


def main() -> None:
    """Writes the clip and its poster."""
    pictures = [drawn(place / RATE) for place in range(RATE * SECONDS)]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_page()
        page.goto((FIGURES / "quick-disconnect.svg").as_uri())  # a place from which the encoder may be used
        page.goto("about:blank") if not page.evaluate("!!self.VideoEncoder") else None
        found = page.evaluate(_ENCODE, [WIDE, HIGH, RATE, pictures])
        browser.close()
    chunks = [(moment, key, base64.b64decode(data)) for moment, key, data in found]
    data = webm(chunks, seconds=SECONDS, width=WIDE, height=HIGH)
    (FIGURES / "parting.webm").write_bytes(data)
    (FIGURES / "parting.svg").write_text(drawn(0.0), "utf-8")
    print(f"{len(chunks)} pictures, {len(data)} bytes")


def drawn(moment: float) -> str:
    """The quick-disconnect at a moment of the clip, in seconds."""
    lever, collar, apart = (ease(moment, *span) for span in ((2.5, 4.0), (6.0, 7.2), (9.0, 10.8)))
    parts = _parts((FIGURES / "quick-disconnect.svg").read_text("utf-8"))
    hose, slid = 100 * (1 - apart), 22 * (1 - collar)
    ring = '<rect x="305" y="392" width="16" height="88" rx="2" stroke-width="1.8" fill="url(#quick-disconnect-gr)"/>'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{VIEW}" width="{WIDE}" height="{HIGH}">{parts["defs"]}'
        '<rect x="100" y="200" width="860" height="480" fill="#f7f5f1"/>'
        '<g fill="none" stroke="#2b2f36" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round">'
        f'<rect x="-80" y="396" width="{120 + hose:.1f}" height="80" fill="#ffffff"/>'
        f'<g transform="translate({hose:.1f} 0)">{parts["hose"]}{ring}</g>{parts["fixed"]}'
        f'<g transform="rotate({90 * (1 - lever):.1f} 689 436)">{parts["lever"]}</g>'
        f'<g transform="translate({hose + slid:.1f} 0)">{parts["collar"]}</g></g></svg>\n'
    )


def ease(moment: float, start: float, end: float) -> float:
    """How much of a movement is done at a moment: it begins and ends gently."""
    share = min(1.0, max(0.0, (moment - start) / (end - start)))
    return share * share * (3 - 2 * share)


def _parts(svg: str) -> dict[str, str]:
    """The lines of the lower view that move together."""
    found = re.search(r"<defs>.*?</defs>", svg, re.DOTALL)
    lines = svg.splitlines()

    def between(first: str, last: str) -> list[str]:
        start = next(place for place, line in enumerate(lines) if line.startswith(first))
        return lines[start : next(place for place in range(start, len(lines)) if lines[place].startswith(last))]

    fixed = between('<rect x="522" y="386"', '<path d="M468 436H518"')
    lever = [line for line in fixed if line.startswith('<path d="M672 466') or re.match(r'<path d="M681 3', line)]
    hub = [line for line in fixed if line.startswith('<circle cx="689" cy="436" r="13"') or 'r="4.5"' in line]
    return {
        "defs": found[0] if found else "",
        "hose": "".join(line for line in between('<rect x="30" y="396"', '<rect x="302" y="360"')
                        if 'width="13" height="92"' not in line and not line.startswith('<path d="M38')),
        "collar": "".join(between('<rect x="302" y="360"', '<rect x="522" y="386"')),
        "fixed": "".join(line for line in fixed if line not in lever + hub),
        "lever": "".join(lever + hub),
    }  # fmt: skip


if __name__ == "__main__":
    main()
