"""How long things take, in whole processes; run by hand, never by the suite."""
