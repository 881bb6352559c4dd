"""The whole bow: balance, changes, hair, stick, camber."""
