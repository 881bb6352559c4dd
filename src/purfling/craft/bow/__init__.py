"""The bow: lapping, balance, hair, stick and camber."""
