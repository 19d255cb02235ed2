"""Forces in what holds a wheel: statics of bodies, loads at the wheels, cases."""
