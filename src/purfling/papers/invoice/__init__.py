"""Invoice, deposit and credit note: PDF/A-3 with the embedded invoice of EN 16931."""
