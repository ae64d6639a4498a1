"""What is asked, as one record, and the one way from it to an answer."""
