"""What the pages read: functions that fetch, with as few queries as they can, and change nothing."""
