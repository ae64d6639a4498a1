"""What stands between the screens and whoever asks for them: phones and the class."""
