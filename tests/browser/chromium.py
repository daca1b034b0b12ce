"""Where the browser is, and what a test without one says."""

from __future__ import annotations

from pathlib import Path

import pytest

CHROMIUM = Path("/usr/bin/chromium")
IN_A_BROWSER = [
    pytest.mark.browser,
    pytest.mark.skipif(not CHROMIUM.exists(), reason="no Chromium at /usr/bin/chromium; .ci/run installs it"),
]
