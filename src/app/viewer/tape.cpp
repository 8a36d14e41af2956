// SPDX-License-Identifier: MIT
#include "app/viewer/tape.h"

#include "scene/scene.h"

namespace evenspit::viewer {

Vec3 TapeEnd::now(double turn_rad) const {
    return turns ? Vec3(scene::turned_rod(turn_rad) * at) : at;
}

void Tape::take(bool on) {
    on_ = on;
    ends_.clear();
}

void Tape::point(const Vec3& world, bool turns, double turn_rad) {
    if (ends_.size() == 2) ends_.clear();
    ends_.push_back({turns ? Vec3(scene::turned_rod(-turn_rad) * world) : world, turns});
}

}  // namespace evenspit::viewer
