"""Whatever bytes come in, a reader gives a value or plain problems. Targets, a corpus, and two ways to run them.

    python -m tests.fuzz TARGET [SECONDS]

With the extra `fuzz` (atheris) the search is guided by coverage and runs for SECONDS (60); what it finds new is added
to tests/fuzz/corpus/TARGET. Without it the corpus is changed at random from a fixed seed, as the tests do.
"""
