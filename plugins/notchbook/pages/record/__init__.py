"""Pages of test records: readings, results, uncertainty, report."""
