"""Where pieces lie on cloth: what is cut, lays and their proof, and the shortest lay that is known."""
