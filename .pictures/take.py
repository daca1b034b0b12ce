"""README's picture, taken anew of the demo: `.venv/bin/python .pictures/take.py` after `wortbook build`."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
SITE = HERE.parent / "site"
SIZE = (1280, 1120)
#: Pages are flat drawings: this many colours show them as they are, in a quarter of the bytes.
COLOURS = 160
SHOWN = {"batch": "batches/29.html"}


def main() -> None:
    """Take them."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": SIZE[0], "height": SIZE[1]}, color_scheme="light")
        for name, file in SHOWN.items():
            page.goto((SITE / file).as_uri())
            picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
            picture.quantize(COLOURS, dither=Image.Dither.NONE).save(HERE / f"{name}.png", optimize=True)
        browser.close()


if __name__ == "__main__":
    main()
