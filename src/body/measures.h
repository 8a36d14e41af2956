// SPDX-License-Identifier: MIT
#pragma once

#include "body/body.h"

namespace evenspit::body {

/// What a tape says of a body's skin.
struct BodyMeasures {
    Vec3 size = Vec3::Zero();  ///< over all, along the item frame's axes, m
    double girth_m = 0;        ///< of a taut tape round it, square to x, where that is most
    double girth_at_m = 0;     ///< x of that place
};

/// Measures parts[0], limbs as they lie. The girth is the greatest of 100 sections.
BodyMeasures measure_body(const Body& body);

/// Volume within the walls of all cavities, filled or not, m3.
double cavity_volume(const Body& body);

}  // namespace evenspit::body
