"""The answer in words, in rows and in numbers; nothing here knows a screen.

Start at :mod:`shadecore.report.text` (what the command line prints) and
:mod:`shadecore.report.records` (what programs read).
"""
