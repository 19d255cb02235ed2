"""Eighteen faults to switch on in the demo car, and which rules see each.

A fault is an overlay: the car with a slip of the workshop in it. It is there to prove that a check
speaks when something is wrong, so each names what must be reported, and one that nothing reports
yet says why. Faults find their things by the names they have in the demo car.
"""

from dataclasses import dataclass

from core.document.base import Vec3
from core.document.power import Mount, Stiffness
from core.document.running_gear import Brake, Corner, DriveShaft, Hub, Rack, Tyre, Wheel
from core.document.steel import Panel, Point, Tube
from core.document.surroundings import Run
from core.engine.overlay import Overlay
from core.study.rests import StudyError
from core.study.slips import (
    Subject,
    another,
    joints_added,
    left_out,
    moved,
    rubber,
    together,
    tube_added,
    unit_moved,
)


@dataclass(frozen=True)
class Fault:
    """Something wrong with the demo car that can be switched on.

    Attributes:
        name: such as SF01.
        what: the slip, in words.
        overlay: the car with the fault in it; raises `core.study.slips.SubjectMissingError`, or
            what an edit raises, on a car that lacks its subject.
        seen_by: rules, by the key of their findings, that must report it.
        unseen: why no rule reports it yet; empty where one does.
        not_all: what of it no rule reports yet, where one does, and why.
    """

    name: str
    what: str
    overlay: Overlay
    seen_by: tuple[str, ...] = ()
    unseen: str = ""
    not_all: str = ""


def fault(name: str) -> Fault:
    """The fault of a name, in capitals or not.

    Raises:
        StudyError: there is none.
    """
    for each in FAULTS:
        if each.name == name.upper():
            return each
    msg = f"there is no fault «{name}»; there are {FAULTS[0].name} to {FAULTS[-1].name}"
    raise StudyError(msg)


NO_SHAFT_TRAVEL = "no rule moves the shafts with the wheels yet"
NO_SHAFTS_MOVED = "no rule moves the shafts with the engine on its mounts yet"
NO_FITS = "no rule holds bought parts against one another yet"
NO_RUNS = "no rule looks at hoses, pipes and cables yet"

SHAFT = Subject(DriveShaft, "drive_shaft", "left")
UPRIGHT_BOLT = Vec3(0.0, 0.0, 1.0)
SOFT_BUSH = Stiffness(x=180.0, y=140.0, z=220.0)
SWINGING_STAY = Stiffness(x=350.0, y=0.0, z=0.0)
SEAT_TUBE_AT = Vec3(-1030.0, 560.0, 130.0)
PIPE_BEHIND_THE_UNIT = (
    Vec3(-1925.0, 459.0, 198.0),
    Vec3(-1925.0, -472.0, 195.0),
    Vec3(-2345.0, -472.0, 190.0),
    Vec3(-2395.0, -415.0, 420.0),
)


def _joint(name: str, side: str) -> Subject:
    return Subject(Point, name, "left" if side == "left" else "right")


FAULTS: tuple[Fault, ...] = (
    Fault(
        "SF01",
        "left drive shaft bought 20 mm too long",
        together(
            moved(SHAFT, "length", 20.0),
            moved(SHAFT, "bench.pushed_home", 20.0),
            moved(SHAFT, "bench.pulled_to_stop", 20.0),
        ),
        seen_by=("shaft_plunge", "wheel_planes"),
        not_all=f"seen at the design position only: {NO_SHAFT_TRAVEL}; {NO_SHAFTS_MOVED}",
    ),
    Fault(
        "SF02",
        "engine and gearbox hung 20 mm to the right of its drawn place",
        unit_moved(Vec3(0.0, -20.0, 0.0)),
        seen_by=(
            "unit_gap",
            "unit_gap_moved",
            "way_out",
            "bracket_reach",
            "stay_fit",
            "shaft_plunge",
            "wheel_planes",
        ),
        not_all=f"the brake pipe that comes too near is not seen: {NO_RUNS}; {NO_SHAFTS_MOVED}",
    ),
    Fault(
        "SF03",
        "rear toe link inner bracket welded 12 mm high",
        moved(_joint("rear_toe_inner", "left"), "at.z", 12.0),
        seen_by=("bump_steer",),
    ),
    Fault(
        "SF04",
        "steering rack mounted 10 mm high",
        moved(Subject(Rack, "steering_rack"), "centre.z", 10.0),
        seen_by=("bump_steer", "link_tilt"),
    ),
    Fault(
        "SF05",
        "stiffening tube added from J_L to J_R under the engine and gearbox",
        tube_added("M90_cross", "T25", _joint("J", "left"), _joint("J", "right")),
        seen_by=("unit_gap", "way_out"),
    ),
    Fault(
        "SF06",
        "screen header left out: roof-rail bends have no tube meeting them",
        left_out(Subject(Tube, "M20_screen_header")),
        seen_by=("unmet_bend", "loose_joint"),
    ),
    Fault(
        "SF07",
        "seat cross tube teed into both sills at mid-span",
        together(
            joints_added("X", Subject(Tube, "M26_sill", "left"), SEAT_TUBE_AT),
            tube_added("M91_seat_cross", "T25", _joint("X", "left"), _joint("X", "right")),
        ),
        seen_by=("mid_tube_tee",),
    ),
    Fault(
        "SF08",
        "rear tyres changed to 195/45R15 without moving anything",
        another(Subject(Tyre, "rear tyre"), "size", "195/45R15"),
        seen_by=("loaded_radius",),
    ),
    Fault(
        "SF09",
        "front pair of wheels fitted at the rear: stud circle and bore differ",
        together(
            another(Subject(Wheel, "rear wheel"), "stud_circle", 100.0),
            another(Subject(Wheel, "rear wheel"), "centre_bore", 57.1),
        ),
        unseen=NO_FITS,
    ),
    Fault(
        "SF10",
        "left gearbox mount bush placed 60 mm lower, far from its joint",
        moved(Subject(Mount, "M2_left_gearbox"), "place.z", -60.0),
        seen_by=("bracket_reach",),
    ),
    Fault(
        "SF11",
        "rear droop stop left out: droop 90 mm instead of 50",
        another(Subject(Corner, "rear corner", "left"), "droop", 90.0),
        seen_by=("damper_open", "moving_gap"),
    ),
    Fault(
        "SF12",
        "rear toe-link bolts turned upright",
        together(
            another(_joint("rear_toe_inner", "left"), "joint.direction", UPRIGHT_BOLT),
            another(_joint("rear_toe_outer", "left"), "joint.direction", UPRIGHT_BOLT),
        ),
        seen_by=("link_tilt",),
    ),
    Fault(
        "SF13",
        "rear hub nut is 32 across flats, the socket written down is 36",
        another(Subject(Hub, "rear_hub"), "nut_across_flats", 32.0),
        unseen="no rule holds sockets against nuts yet",
    ),
    Fault(
        "SF14",
        "shift cable bent to 90 at every corner",
        another(Subject(Run, "gear_cable_shift"), "bend_radius", 90.0),
        unseen=NO_RUNS,
    ),
    Fault(
        "SF15",
        "rear right brake pipe carried across behind the engine instead of along the rail",
        another(Subject(Run, "brake_rear_right"), "points", PIPE_BEHIND_THE_UNIT),
        unseen=NO_RUNS,
    ),
    Fault(
        "SF16",
        "rear calipers with 50 mm pistons",
        another(Subject(Brake, "rear brakes"), "piston_diameter", 50.0),
        seen_by=("front_locks",),
    ),
    Fault(
        "SF17",
        "cockpit floor sheet left out",
        left_out(Subject(Panel, "P1_floor")),
        seen_by=("open_bay",),
    ),
    Fault(
        "SF18",
        "soft stay (350 along itself, free to swing) and soft bushes (x 180)",
        together(
            rubber(Subject(Mount, "M3_torque_stay"), SWINGING_STAY),
            rubber(Subject(Mount, "M1_right_engine"), SOFT_BUSH),
            rubber(Subject(Mount, "M2_left_gearbox"), SOFT_BUSH),
        ),
        seen_by=("mount_stops", "mount_turn", "unit_gap_past_stops"),
    ),
)
