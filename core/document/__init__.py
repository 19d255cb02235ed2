"""The project and the car as frozen values: kinds, ids, sides, carriers, facts, file and meshes."""
