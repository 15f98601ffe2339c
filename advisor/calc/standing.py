"""Standing loss of a hot-water store: the limit of each label class."""

from __future__ import annotations

from advisor import tables
from advisor.calc.formula import Arg, formula

CLASSES = tables.load("cylinder_loss_class")


@formula(text="a_w + b_w * volume_l ** 0.4", unit="W", source=CLASSES.source,
         args=(Arg("volume_l", "l", 1, 2000), Arg("a_w", "W", 0, 1000), Arg("b_w", "W", 0, 1000)))
def loss_limit(volume_l: float, a_w: float, b_w: float) -> float:
    """Largest standing loss of a label class.

    S = a + b V^0.4

    Parameters
    ----------
    volume_l : volume of the store [l]
    a_w : first figure of the class [W]
    b_w : second figure of the class [W]

    Returns
    -------
    loss at 65 C in a 20 C room [W]

    Raises
    ------
    OutOfRange
        If the volume lies outside 1 to 2000 l.

    Limits
    ------
    The label's convention, 45 K above the room; the annual convention of SAP is another and not to be compared.

    Source
    ------
    Regulation (EU) 812/2013, Annex II, Table 2.

    Examples
    --------
    >>> round(loss_limit(210.0, 16.66, 8.33), 1)
    87.4
    """
    return a_w + b_w * volume_l**0.4
