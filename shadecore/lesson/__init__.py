"""The trainer's lesson: one film over five undercoats, a contrast card, an exercise.

Start at :mod:`shadecore.lesson.panels`.
"""
