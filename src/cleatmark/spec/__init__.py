"""Reading a specification: DOCX to clauses with the numbers a reader sees, clauses to stated requirements."""
