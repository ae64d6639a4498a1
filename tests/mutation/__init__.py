"""Changed lines, to see which of them the tests catch.

``cd tests && python -m mutation --seed 1 --count 200 shadecore/film shadecore/photo``
changes one line at a time, runs the tests of its module, and prints the share caught.
"""
