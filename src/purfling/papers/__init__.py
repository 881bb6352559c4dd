"""What a professional signs: one folder per paper, ``build.py`` and a typst template."""
