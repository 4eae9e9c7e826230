"""What proves a reading to be a terminal's setting: the gate through which every release goes.

`gate.py` asks for each proof in turn; `quantity.py` tells a tightening torque from others, `screws.py` the screw of
a terminal from others, `names.py` what names the terminal, `devices.py` what names the device. Texts that speak for a
figure come in levels (`scope`), nearest first.
"""

from torquary_ingest.evidence.gate import Claimed, Weighed, weigh

__all__ = ["Claimed", "Weighed", "weigh"]
