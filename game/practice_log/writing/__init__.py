"""What is played goes in as it comes, on a thread of the log's own."""
