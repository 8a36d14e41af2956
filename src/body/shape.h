// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "body/bird.h"
#include "body/body.h"

namespace evenspit::body {

/// What any parametric body is made from: BirdOptions, with the name of a bird or a joint in `species`. Of a
/// joint `tight` stands for the usual one of its trussings().
struct ShapeOptions : BirdOptions {};

/// A kind of parametric body.
struct ShapeKind {
    std::string name;
    std::string about;  ///< in a few words
    double least_kg = 0, greatest_kg = 0;
};

/// Birds, then joints.
std::vector<ShapeKind> shape_kinds();

/// The names of those.
std::vector<std::string> shape_names();

/// Whether a name is one of bird_species(): something with a breast, limbs to tie and a vent.
bool is_bird(const std::string& name);

/// How limbs of a shape of that name can be held, the usual way first; none where it has none to tie.
std::vector<Trussing> trussings(const std::string& name);

/// make_bird() or make_joint(). A joint takes length, width and depth of the tape, and has no limbs to miss.
///
/// \pre the trussing is one of trussings(), or tight
/// \throws InputError as those two do; for a joint also with key "missing", "giblets", "breast_width",
/// "girth" or "leg_splay" for what only
///         a bird has
Body make_shape(const ShapeOptions& options);

}  // namespace evenspit::body
