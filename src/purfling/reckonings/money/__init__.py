"""Money: sums and rounding in decimals, tax rates by date, the invoice as EN 16931 wants it."""
