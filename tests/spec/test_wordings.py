"""What the shipped readings make of the wordings of many offices, told before the reader ran."""

from __future__ import annotations

import pytest
from wordings import Wording, every, judged


@pytest.mark.parametrize("wording", every(), ids=lambda wording: wording.place)
def test_wording(wording: Wording) -> None:
    assert judged(wording) == [], wording.text
