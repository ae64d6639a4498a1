"""The rest of the job: steps, windows, times, materials, weather, VOC, cautions.

The planner knows the trade; everything that a product decides comes from its sheet.
Start at :mod:`shadecore.products.product` (the sheet), :mod:`shadecore.job.steps` (the
trade's steps), :mod:`shadecore.job.schedule` (when each may happen) and
:mod:`shadecore.job.plan` (all of it together).
"""
