"""How many bytes cross the wire while the app, in a browser, sends photos that lie on the phone."""

from __future__ import annotations

import base64
import secrets
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from barnlight.bench.counting_line import CountingLine
from barnlight.bench.sync_server import barnlight

COUNT, BYTES = 40, 400_000
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
BROWSERS = ("/usr/bin/chromium", "/usr/bin/chromium-browser")
# Writes what the app's own store writes for a photo; the app then finds it waiting, as after a start without a signal.
KEEP = """async (text) => {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const hash = [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  const opening = indexedDB.open("barnlight");
  const db = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
  const tx = db.transaction(["media", "uploads"], "readwrite");
  tx.objectStore("media").put({ hash, type: "image/jpeg", bytes, confirmed: false, added_ms: Date.now() });
  tx.objectStore("uploads").put({ hash });
  await new Promise((done) => { tx.oncomplete = done; });
  db.close();
}"""


def a_photo() -> bytes:
    """A JPEG of noise of about 400 kB."""
    out = BytesIO()
    side = 512  # noise of this size takes so many bytes at quality 84
    Image.frombytes("RGB", (side, side), secrets.token_bytes(3 * side * side)).save(out, "JPEG", quality=84, subsampling=0)
    return out.getvalue()


def bytes_of_photos(folder: Path) -> tuple[int, int]:
    """(bytes of the photos, bytes on the wire both ways until the last was confirmed)."""
    with barnlight(folder) as caller, sync_playwright() as playwright:
        line = CountingLine(caller.port)
        address = f"http://localhost:{line.port}"
        code = caller.post("/api/pair/codes", {})[0]["code"]
        browser = playwright.chromium.launch(executable_path=next(filter(lambda path: Path(path).exists(), BROWSERS), None), args=FLAGS)
        page = browser.new_page()
        page.goto(f"{address}/#/pair/{code}")
        page.get_by_label("Name of this phone or person", exact=True).fill("Bench phone")
        page.get_by_role("button", name="Pair", exact=True).click()
        page.wait_for_url("**/#/device")
        said = page.get_by_label("Where your work is kept")
        said.get_by_text("All of it is on the server").wait_for()
        page.evaluate("async () => { while (!navigator.serviceWorker.controller) await new Promise((later) => setTimeout(later, 50)); }")
        page.wait_for_timeout(3000)  # the app reads ahead what may be needed next
        photos = [a_photo() for _ in range(COUNT)]
        for photo in photos:
            page.evaluate(KEEP, base64.b64encode(photo).decode())
        line.passed = 0
        page.get_by_role("button", name="Ask the server now").click()
        said.get_by_text("file").wait_for()
        said.get_by_text("All of it is on the server").wait_for(timeout=120_000)
        return sum(map(len, photos)), line.passed
