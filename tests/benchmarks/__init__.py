"""Measurements, which nobody runs as tests. No build takes over from another, but where a benchmark says so."""

import os

os.environ.setdefault("BRIEFGEN_CACHE", "")
