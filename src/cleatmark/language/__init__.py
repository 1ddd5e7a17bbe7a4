"""The rule language: parse, check, layer, compile, evaluate. Knows neither DOCX nor ASCE 7."""
