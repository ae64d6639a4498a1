"""Numbers into words: the sentences that screens, command line and prints share."""
