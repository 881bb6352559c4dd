"""The bridge template at 1:1 on A4 and Letter."""
