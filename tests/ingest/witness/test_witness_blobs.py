"""Areas of ink are those that scipy finds with eight neighbours."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy import ndimage

from torquary_ingest.witness.blobs import label_blobs


@given(st.integers(1, 14), st.integers(1, 14), st.integers(0, 2**32 - 1), st.floats(0.05, 0.8))
def test_same_areas_as_scipy(high: int, wide: int, seed: int, share: float) -> None:
    mask = np.random.default_rng(seed).random((high, wide)) < share
    labels, blobs = label_blobs(mask)
    expected, count = ndimage.label(mask, structure=np.ones((3, 3)))
    assert len(blobs) == count
    assert ((labels > 0) == mask).all()
    for blob in blobs:
        place = labels == blob.label
        assert len(np.unique(expected[place])) == 1
        rows, columns = np.nonzero(place)
        extent = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
        assert (blob.area, blob.x0, blob.y0, blob.x1, blob.y1) == (place.sum(), *extent)
