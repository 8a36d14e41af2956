# SPDX-License-Identifier: MIT
"""Wrong formulas that the tests must notice: (room, text as it stands, what it is made, tests that must fail).

The text stands once in the sources of its room (src/ROOM/*.cpp and *.h); the tests are a filter of the room's
own test program (ROOM_tests).
"""

MUTANTS = [
    # --- analysis: uncertainty, places ---
    ("analysis", "seat.line.to += s.rod_line_m", "seat.line.from += s.rod_line_m", "Uncertainty.*:Mountings.*"),
    ("analysis", "off.mass *= least_zero(1 + s.mass *", "off.mass *= least_zero(1 + 2 * s.mass *",
     "Uncertainty.*:Mountings.*"),
    ("analysis", "std::ceil(share *", "std::ceil(0.95 * share *", "Uncertainty.*"),
    ("analysis", ".array().max(0) + each_way_m * each_way_m).sqrt()", ".array().max(0) + each_way_m).sqrt()",
     "Uncertainty.*"),
    ("analysis", "to - from <= limits::meat_gives_m", "to - from <= 0.96 * limits::meat_gives_m", "Places.*"),
    ("analysis", "if (depth > limits::meat_gives_m)", "if (depth > 1.04 * limits::meat_gives_m)", "Places.*"),
    ("analysis", "merged(std::move(runs), limits::meat_gives_m)", "merged(std::move(runs), 0.0)", "Places.*"),
    ("analysis", "arm_m > limits::meat_gives_m;", "arm_m > 0.0;", "Places.*"),
    ("analysis", "depth = std::max(depth, std::min(at - whole.from, whole.to - at));",
     "depth = std::max(depth, at - whole.from);", "Places.*"),
    ("analysis", "reach && (p - q).norm() < reach)", "reach)", "Places.*"),
    # --- analysis: balance and turning ---
    ("analysis", "std::numbers::pi / 4 * tine.diameter_m * tine.diameter_m",
     "std::numbers::pi / 2 * tine.diameter_m * tine.diameter_m", "ForkCentre.*"),
    ("analysis", "(m.centre.x() - b.centre_x_m) * m.centre.tail<2>()", "m.centre.x() * m.centre.tail<2>()",
     "Balance.*"),
    ("analysis", "std::atan2(b.unbalance_kg_m.y(), b.unbalance_kg_m.x())",
     "std::atan2(b.unbalance_kg_m.x(), b.unbalance_kg_m.y())", "Balance.*"),
    ("analysis", "std::cos(turn_rad) - b.unbalance_kg_m.y() * std::sin(turn_rad)",
     "std::cos(turn_rad) + b.unbalance_kg_m.y() * std::sin(turn_rad)", "Balance.*"),
    ("analysis", "return {friction - gravity, friction + gravity};",
     "return {friction - gravity, gravity - friction};", "Balance.*"),
    ("analysis", "std::acos(friction / lift) / std::numbers::pi", "std::asin(friction / lift) / std::numbers::pi",
     "Turning.*"),
    ("analysis", "std::sqrt((c - b) * (c + b))", "c", "Turning.*"),
    ("analysis", "balance.motor_torque_peak_n_m >= motor.stall_torque_n_m",
     "balance.gravity_torque_peak_n_m >= motor.stall_torque_n_m", "Turning.*"),
    # --- analysis: rod ---
    ("analysis", "bracket<3>(x - problem_.supports_m[i]) / 6", "bracket<3>(x - problem_.supports_m[i]) / 3",
     "Beam.*"),
    ("analysis", "/ (factorial * (power + 1));", "/ (factorial * power);", "Beam.*"),
    ("analysis", "moment_about_first / (b - a);", "moment_about_first / b;", "Beam.*"),
    ("analysis", "consider(from + (to - from) * t);", "consider((from + to) / 2);", "Beam.*"),
    ("analysis", "std::sqrt(sigma * sigma + 3 * tau * tau)", "std::sqrt(sigma * sigma + tau * tau)",
     "RodResult.*"),
    ("analysis", "twist / section.torsion_modulus_m3", "twist / section.least_modulus_m3", "RodResult.*"),
    ("analysis", "motor.support_friction * std::abs(reactions_n[1]) * radius",
     "motor.support_friction * std::abs(reactions_n[0]) * radius", "FrictionTorque.*"),
    # --- analysis: grip and clearance ---
    ("analysis", "(x - mean) * (centre_m - mean) / spread", "(x - mean) * centre_m / spread",
     "WeightShares.*:Grip.*"),
    ("analysis", "std::max(0.0, embedded - through.in_bone_m - through.in_cavity_m)",
     "std::max(0.0, embedded - through.in_bone_m)", "Grip.*"),
    ("analysis", "std::min(beside - tine.diameter_m / 2, ahead)", "std::min(beside, ahead)", "Grip.*"),
    ("analysis", "weight.radius_m + weight.diameter_m / 2, part(", "weight.radius_m, part(", "SweptOutline.*"),
    ("analysis", "return axis_m + tine.diameter_m / 2;", "return axis_m;", "SweptOutline.*"),
    # --- plan ---
    ("plan", "constexpr double different = 1e-3;", "constexpr double different = 1.2e-3;", "ComparedFigures.*"),
    ("plan", "f.more_is_better ? most : least;", "least;", "ComparedFigures.*"),
    ("plan", "found.weights.size() > best.weights.size() ? 0.9 : 1;", "1;", "FindCounterweights.*"),
    ("plan", "(size * size + ua * ua - ub * ub) / (2 * size * ua)",
     "(size * size - ua * ua + ub * ub) / (2 * size * ua)", "FindCounterweights.*"),
    ("plan", "correction[0] -= (1 - share_b) * u.unbalance_kg_m;", "correction[0] -= share_b * u.unbalance_kg_m;",
     "TwoPlanes.*"),
    ("plan", "return std::max(unbalances[0].norm(), unbalances[1].norm());", "return unbalances[0].norm();",
     "Unbalance.*:FindCounterweights.*:ItemUnbalance.*"),
    ("plan", "std::sqrt(below * above)", "(1.5 * below)", "FindFit.*"),
    ("plan", "return std::pair(stops, std::abs(std::log(t.row.mass_factor)));",
     "return std::pair(0, t.row.mass_factor);", "FindFit.*"),
    # --- geometry ---
    ("geometry", "moments.amount = total[0] / 6;", "moments.amount = total[0] / 3;", "VolumeMoments.*"),
    ("geometry", "Vec3(total[1], total[2], total[3]) / 24 / moments.amount",
     "Vec3(total[1], total[2], total[3]) / 18 / moments.amount", "VolumeMoments.*"),
    ("geometry", "moments.second / 120 - moments.amount * outer_square(offset)", "moments.second / 120",
     "VolumeMoments.*"),
    ("geometry", "a.amount * (b.amount / amount) * outer_square(apart)", "b.amount * outer_square(apart)",
     "VolumeMoments.*"),
    ("geometry", "turn * moments.second * turn.transpose()", "turn * moments.second", "VolumeMoments.*"),
    ("geometry", "direction.x() * f.x1 + direction.z() * f.z1 + across * f.r1",
     "direction.x() * f.x1 + direction.z() * f.z1", "Frustum*:Gap*"),
    # --- body ---
    ("body", "part.density_kg_m3 - parent_density(body, part);", "part.density_kg_m3;", "Body.*"),
    ("body", "(mass_kg - kept_kg) / scaled_kg;", "mass_kg / scaled_kg;", "Body.*"),
    # --- rig ---
    ("rig", "std::pow(s, 3) / (6 * sqrt2)", "std::pow(s, 3) / 6", "SectionProperties.*"),
    ("rig", "pi * std::pow(d, 3) / 16", "pi * std::pow(d, 3) / 32", "SectionProperties.*"),
    ("rig", "low.*which + t * ((*above).*which - low.*which)", "low.*which", "Material.*"),
    # --- load ---
    ("load", "Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitZ())",
     "Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitY())", "SeatPose.*"),
    ("load", "a - a.dot(along) * along", "a", "SeatPose.*"),
    # --- units ---
    ("units", "fahrenheit_zero_shift = 459.67", "fahrenheit_zero_shift = 460.67", "Quantity.*:Reads.*:Prints.*"),
    ("units", "psi = pound * gravity / (inch * inch)", "psi = pound / (inch * inch)", "Quantity.*:Reads.*:Prints.*"),
]
