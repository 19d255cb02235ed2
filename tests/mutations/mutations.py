"""Named faults that someone might write one day, each with the tests that must notice."""

from tests.mutations import of_assess, of_checks, of_forces, of_geometry, of_house, of_suspension

MUTATIONS = (
    *of_assess.MUTATIONS,
    *of_checks.MUTATIONS,
    *of_forces.MUTATIONS,
    *of_geometry.MUTATIONS,
    *of_house.MUTATIONS,
    *of_suspension.MUTATIONS,
)
