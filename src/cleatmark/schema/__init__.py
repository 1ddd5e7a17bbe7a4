"""Help for editors: JSON Schemas of job and submittal files, and a highlighting grammar for rule files.

Both are written from declarations: fields from rulebooks, the structure around them from the rooms that read the
files, keywords from the language's grammar.
"""
