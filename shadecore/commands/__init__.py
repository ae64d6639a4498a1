"""The commands of the command line, one a module.

Each has ``add``, which puts it on the parser, and calls the same functions as the
screens. :mod:`shadecore.commands.options` holds the words they share.
"""
