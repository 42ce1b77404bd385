"""The guide's recipe, run in a throw-away repository as it stands there."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

from briefgen.start.folder import start_folder
from tests.demo import CONTENT

PAGE = (CONTENT / "pages" / "guide" / "revisions.md").read_text(encoding="utf-8")
RECORD, COMPARE = re.findall(r"<!-- run -->\n```sh\n(.*?)```", PAGE, re.DOTALL)
IN_CI = next(line for line in PAGE.splitlines() if line.endswith("|| test $? -eq 1"))


def run(folder: Path, script: str) -> subprocess.CompletedProcess[str]:
    """A script in a folder, with `briefgen` being this one."""
    tool = folder.parent / "bin" / "briefgen"
    tool.parent.mkdir(exist_ok=True)
    tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m briefgen "$@"\n', encoding="utf-8")
    tool.chmod(0o755)
    settings = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_AUTHOR_NAME": "A", "GIT_AUTHOR_EMAIL": "a@example.org"}
    settings |= {"GIT_COMMITTER_NAME": "A", "GIT_COMMITTER_EMAIL": "a@example.org", "PYTHONPATH": ":".join(sys.path)}
    environment = {**os.environ, **settings, "PATH": f"{tool.parent}:{os.environ['PATH']}"}
    return subprocess.run(
        ["sh", "-c", script], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def test_the_recipe_compares_what_lies_here_with_the_last_commit(tmp_path: Path) -> None:
    project = tmp_path / "plan"
    start_folder(project)
    first = run(
        project, f"git init --quiet && {RECORD.strip()}\ngit add . && git commit --quiet -m one".replace("\n", " && ")
    )
    assert first.returncode == 0, first.stderr
    assert "Nothing differs." in run(project, COMPARE).stdout
    path = project / "content" / "tasks.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("3/4/6 min", "3/8/9 min"), encoding="utf-8")
    changed = run(project, COMPARE)
    assert "Takes: 3/4/6 min → 3/8/9 min" in changed.stdout
    assert not (tmp_path / "earlier").exists()
    earlier, remove = (line for line in COMPARE.splitlines() if line.startswith("git"))
    in_ci = run(project, f"{earlier} && {IN_CI} && {remove}")
    assert in_ci.returncode == 0, in_ci.stderr
    assert "### Steps" in (project / "changes.md").read_text(encoding="utf-8")
    assert run(project, IN_CI).returncode == 1, "what could not be compared stops the job"
