"""The page that shows why the undercoat matters."""
