"""The bridge sheet: the bridge at 1:1, its mass and balance, what each cut does, lean."""
