"""The page that picks the undercoat."""
