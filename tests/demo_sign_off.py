"""Signs the demo's class edition anew after its words, photos or values changed: python -m tests.demo_sign_off.

For maintainers only. Whoever runs it has looked at the sheet of `journey disclose demo_client --for class`: the
people in the demo are drawn, and it has to publish on a machine that has just installed it.
"""

from __future__ import annotations

from journey.edition.consent import Refusal
from journey.edition.leaving import sheet_code
from journey.pipeline import prepare, study_folder
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.vouching import vouch
from tests.demo import DEMO, TODAY

SIGNER = "ilse"
COMMAND = "python -m tests.demo_sign_off"


def sign() -> str:
    """Sign what is not signed yet; what was done, in words."""
    studied, theme = study_folder(DEMO), load_theme()
    edition = prepare(studied, Audience.CLASS, today=TODAY, theme=theme, to_look_only=True)
    if isinstance(edition, Refusal):
        return "\n".join(edition.reasons)
    code = sheet_code(edition.leaving)
    new = vouch(studied, Audience.CLASS, by=SIGNER, sheet=code, today=TODAY, theme=theme)
    assert not isinstance(new, Refusal)
    return f"{len(new)} items signed, sheet {code}"


if __name__ == "__main__":
    print(sign())
