"""The product sheet: what is bought, mixed and poured, and its VOC."""
