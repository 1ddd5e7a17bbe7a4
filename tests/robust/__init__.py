"""What a hostile file, a bad day of the machine, or a second process may not do."""
