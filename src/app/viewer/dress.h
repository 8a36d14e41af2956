// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>

#include "app/viewer/painter.h"

namespace evenspit::viewer {

/// How a matter looks. Colours are linear.
struct Dress {
    Vec3 base;
    float gloss = 0;  // of highlights
    float glow = 0;   // of itself
    float grain = 0;  // unevenness of its colour
    float wrap = 0;   // how far light reaches round
    float clear = 1;  // least opacity, where it is seen straight
    float edge = 0;   // how much more opaque where it is seen aslant
};

Dress dress_of(Matter matter, const Look& look);

/// What lies open at a joint's surface, over the dress of its skin: a colour, and how much of it; linear.
std::array<std::uint8_t, 4> tint_of(scene::Tissue tissue);

/// What cut flesh looks like where it is so warm, linear.
struct DoneColour {
    double at_k = 0;
    Vec3 colour = Vec3::Zero();
};
/// The coldest first, which is raw; straight between them.
const std::array<DoneColour, 4>& done_colours();

bool casts_shadow(Matter matter);

}  // namespace evenspit::viewer
