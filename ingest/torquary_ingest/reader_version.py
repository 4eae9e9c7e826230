"""The version of the reader: a catalogue keeps it with each sheet, and reads sheets of an earlier one anew."""

from __future__ import annotations

READER_VERSION = 5
"""Raise it by one with each change after which a sheet may be read otherwise than before (a figure released or held,
another name, another conductor), once for a version that is given out. Every catalogue then reads each of its sheets
anew when its file is loaded: a change of speed, of messages or of files that were refused is no reason.
"""
