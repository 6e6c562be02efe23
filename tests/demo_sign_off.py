"""Signs the demo's class edition anew after its words, photos or values changed: python -m tests.demo_sign_off.

For maintainers only. Whoever runs it has looked at the sheet of `journey disclose demo_client --for class`: the
people in the demo are drawn, and it has to publish on a machine that has just installed it.
"""

from __future__ import annotations

from tests.demo import DEMO, TODAY
from tests.signing import sign_class

SIGNER = "ilse"
COMMAND = "python -m tests.demo_sign_off"

if __name__ == "__main__":
    count, code = sign_class(DEMO, by=SIGNER, today=TODAY)
    print(f"{count} items signed, sheet {code}")
