"""The story of an office, in one go: every figure that is found at each step is the true one."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from office_story import Story, tell


def test_the_story_of_an_office(tmp_path: Path) -> None:
    story = Story(tmp_path)
    tell(story)
    assert len(story.told) == 16
