"""Pages: fetch, check the right at the one door, call one verb, render. One file per noun."""
