"""Power unit, mounts, service room, drive shafts and brakes from a neutral file."""

from core.document.power import (
    Inertia,
    Insert,
    Mount,
    Outputs,
    PowerUnit,
    ServiceZone,
    Solid,
    Stiffness,
    StopGap,
)
from core.document.running_gear import (
    BenchReadings,
    Brake,
    BrakeSystem,
    DriveShaft,
    Handbrake,
)
from tests.cars.convert_names import unit_name
from tests.cars.neutral import (
    ENDS,
    SIDES,
    ConversionError,
    Plain,
    axes,
    box,
    driven_end,
    matched,
    number,
    number_or_none,
    place,
    place_or_none,
)
from tests.cars.pairs import Names, as_pair


def power_units(car: Plain, names: Names) -> tuple[PowerUnit, ...]:
    """The one power unit, in its own frame."""
    unit = car["power_unit"]
    name = unit_name(car)
    low, high = unit["torque_range_Nm"]
    shafts = unit["drive_shafts"]
    return (
        PowerUnit(
            id=names.id("power_unit", name),
            name=name,
            origin=place(unit["unit_frame"]["origin_in_car"]),
            axes=axes(unit["unit_frame"]["axes_in_car"]),
            orientation=_orientation(unit),
            solids=tuple(Solid(name=s["name"], box=box(s, "_unit")) for s in unit["boxes"]),
            mass_kg=number(unit["mass_wet_kg"]),
            centre_of_gravity=place(unit["cg_unit"]),
            inertia=_inertia(unit["inertia_kg_m2"]["tensor"]),
            outputs=Outputs(**{side: place(shafts[side]["inner_joint_unit"]) for side in SIDES}),
            torque_nm=number(unit["torque_max_Nm"]),
            torque_at_rpm=number_or_none(unit.get("torque_at_rpm")),
            torque_low_nm=number(low),
            torque_high_nm=number(high),
            power_kw=number_or_none(unit.get("power_max_kW")),
            power_at_rpm=number_or_none(unit.get("power_at_rpm")),
            rev_limit_rpm=number_or_none(unit.get("rev_limit")),
            gear_ratios=tuple(number(ratio) for ratio in unit["gear_ratios"]),
            reverse_ratio=number(unit["reverse_ratio"]),
            final_drive=number(unit["final_drive"]),
            clutch_factor=number(unit["clutch"]["torque_limit_factor"]),
            exhaust_note=unit.get("exhaust_note", ""),
            note=_unit_note(unit),
        ),
    )


def _orientation(unit: Plain) -> str:
    """How the unit lies: what its long name says after the first words, and its own entry."""
    _, _, rest = unit["name"].partition(", ")
    parts = [part for part in (rest, unit.get("orientation", "")) if part]
    return "; ".join(parts)


def _unit_note(unit: Plain) -> str:
    remarks = [
        unit["unit_frame"]["what"],
        f"inertia: {unit['inertia_kg_m2']['source']}",
        f"clutch: {unit['clutch'].get('note', '')}".removesuffix("clutch: "),
    ]
    return "; ".join(remark for remark in remarks if remark)


def _inertia(tensor: list[list[float]]) -> Inertia:
    (xx, xy, xz), (_, yy, yz), (_, _, zz) = tensor
    return Inertia(
        xx=number(xx), yy=number(yy), zz=number(zz), xy=number(xy), xz=number(xz), yz=number(yz)
    )


def mounts(car: Plain, names: Names) -> tuple[Mount, ...]:
    """The bushes and the stay."""
    unit = car["power_unit"]
    return tuple(_mount(mount, names, unit_name(car)) for mount in unit["mounts"])


def _mount(mount: Plain, names: Names, unit: str) -> Mount:
    is_bush = "bush_unit" in mount
    gap = {axis: number(value) for axis, value in mount["stop_gap"].items()}
    return Mount(
        id=names.id("mount", mount["name"]),
        name=mount["name"],
        unit=names.ref("power_unit", unit),
        form="bush" if is_bush else "stay",
        what=mount["kind"],
        place=place(mount["bush_unit"] if is_bush else mount["unit_end_unit"]),
        chassis_end=place_or_none(mount.get("chassis_end")),
        stay_length=number_or_none(mount.get("stay_length")),
        axes=axes(mount["axes_in_unit"]),
        inserts=tuple(_insert(insert) for insert in mount["inserts"]),
        fitted=mount["fitted"],
        stop_gap=StopGap(**gap),
        captive=mount["captive"],
    )


def _insert(insert: Plain) -> Insert:
    stiffness = {axis: number(value) for axis, value in insert["stiffness_N_per_mm"].items()}
    return Insert(name=insert["name"], stiffness=Stiffness(**stiffness))


def service_zones(car: Plain, names: Names) -> tuple[ServiceZone, ...]:
    """The room that service needs, in the unit's frame."""
    return tuple(
        ServiceZone(
            id=f"service_zone{count}",
            name=zone["name"],
            box=box(zone, "_unit"),
            want=zone["want"],
            carrier="unit",
            known=tuple(names.ref("tube", tube) for tube in zone["tubes_inside"]),
        )
        for count, zone in enumerate(car["power_unit"].get("service_zones", ()), 1)
    )


def drive_shafts(car: Plain, names: Names) -> tuple[DriveShaft, ...]:
    """The pair of shafts; what the right one has of its own is kept beside the left."""
    left, right = (_shaft(car, names, side) for side in SIDES)
    return (as_pair(left, right),)


def _shaft(car: Plain, names: Names, side: str) -> DriveShaft:
    shafts = car["power_unit"]["drive_shafts"]
    shaft = shafts[side]
    limits = shaft["inner_joint_limits"]
    corner = f"{driven_end(car)} corner_{side[0].upper()}"
    return DriveShaft(
        id=names.id("drive_shaft", "drive_shaft"),
        name="drive_shaft",
        corner=names.ref("corner", corner),
        unit=names.ref("power_unit", unit_name(car)),
        length=number(shaft["length_joint_centres"]),
        bench=_bench(shaft["bench"]) if "bench" in shaft else None,
        bar_outside=number(shaft["shaft_od"]),
        inner_joint=shaft["inner_joint"],
        outer_joint=shaft["outer_joint"],
        outer_boot_outside=number(shaft["outer_boot_od"]),
        plunge_in=number(limits["plunge_in"]),
        plunge_out=number(limits["plunge_out"]),
        inner_angle_deg=number(limits["angle_deg"]),
        outer_angle_deg=number(shaft["outer_joint_limits"]["angle_deg"]),
        yield_mpa=number(shaft["yield_MPa"]),
        bearing_y=_bearing_y(shaft["inner_joint"], car["power_unit"]),
        note=shafts["note"],
    )


def _bearing_y(words: str, unit: Plain) -> float | None:
    """Where the bearing of an intermediate shaft stands, in the unit's frame.

    The file says it in words and in the car's.

    Raises:
        ConversionError: it says it otherwise, or the unit's y is not the car's.
    """
    if "bearing" not in words:
        return None
    (y,) = matched(r".* with a bearing on the block at y (-?[\d.]+)", words, "inner joint")
    if unit["unit_frame"]["axes_in_car"]["y"] != [0, 1, 0]:
        msg = "the bearing of the intermediate shaft is given by y, which is not the unit's"
        raise ConversionError(msg)
    return float(y) - number(unit["unit_frame"]["origin_in_car"][1])


def _bench(bench: Plain) -> BenchReadings:
    return BenchReadings(
        pushed_home=number(bench["seat_to_seat_pushed_home"]),
        pulled_to_stop=number(bench["seat_to_seat_pulled_to_stop"]),
        seats_uncertainty=number(bench["plus_minus"]),
        gearbox_seat_to_joint=number(bench["gearbox_seat_to_inner_centre"]),
        gearbox_seat_uncertainty=number(bench["gearbox_seat_plus_minus"]),
        joint_to_hub_seat=number(bench["outer_centre_to_hub_seat"]),
        hub_seat_uncertainty=number(bench["hub_seat_plus_minus"]),
        kept_each_end=number(bench["stroke_kept_in_reserve_each_end"]),
        how=f"{bench['how']}; {bench['derivation']}",
    )


def brakes(car: Plain, names: Names) -> tuple[Brake, ...]:
    """The brakes of both axles, if the file has any."""
    if "brakes" not in car:
        return ()
    return tuple(
        Brake(
            id=f"brake{count}",
            name=f"{end} brakes",
            axle=names.ref("axle", f"{end} axle"),
            disc_diameter=number(entry["disc_diameter"]),
            disc_thickness=number(entry["disc_thickness"]),
            effective_radius=number(entry["effective_radius"]),
            pistons_one_side=entry["pistons_one_side"],
            piston_diameter=number(entry["piston_diameter"]),
            cylinder_diameter=number(entry["master_cylinder_diameter"]),
        )
        for count, end in enumerate(ENDS, 1)
        for entry in (car["brakes"][end],)
    )


def brake_systems(car: Plain, names: Names) -> tuple[BrakeSystem, ...]:
    """Pedal, balance, pads and handbrake, if the file has any."""
    if "brakes" not in car:
        return ()
    entry = car["brakes"]
    low, high = entry["pad_friction"]["range"]
    least, most = matched(r".*; adjustable ([\d.]+) to ([\d.]+)", entry["balance"], "balance")
    remarks = (entry["caliper_note"], entry["handbrake"]["caliper_note"], entry["method"])
    return (
        BrakeSystem(
            id="brake_system1",
            name="brakes",
            pad_friction=number(entry["pad_friction"]["nominal"]),
            pad_friction_low=number(low),
            pad_friction_high=number(high),
            pedal_ratio=number(entry["pedal_ratio"]),
            front_share_of_rod_force=number(entry["pedal_balance_front_share"]),
            front_share_least=float(least),
            front_share_most=float(most),
            what=entry["balance"],
            handbrake=_handbrake(entry["handbrake"], names),
            note="; ".join(remarks),
        ),
    )


def _handbrake(entry: Plain, names: Names) -> Handbrake:
    return Handbrake(
        axle=names.ref("axle", f"{entry['axle']} axle"),
        what=entry["kind"],
        hand_force=number(entry["hand_force_N"]),
        lever_ratio=number(entry["lever_ratio"]),
        cable_efficiency=number(entry["cable_efficiency"]),
        caliper_ratio=number(entry["caliper_ratio"]),
        slope_wanted_percent=number(entry["slope_wanted_percent"]),
    )
