"""What the writer and the reader of the blank form share: the tags of its fields, and its standing words."""
