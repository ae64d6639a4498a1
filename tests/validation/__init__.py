"""Independent ground truth: simulated paints, solved exactly, and how to score."""
