"""One function per drawing."""
