"""Parts for gearing besides car, engine and gearbox: tyres and the speedometer."""
