"""Files of any kind: tables of text, TOML, whole files; nothing of the trade."""
