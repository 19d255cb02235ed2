"""How the program looks: colours by meaning, type, marks and drawn signs; knows nothing of cars."""
