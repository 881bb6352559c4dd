"""The service report: work list on the bench hours, ready hour, cautions."""
