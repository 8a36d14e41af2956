// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "body/bird_shape.h"
#include "body/grown_body.h"

namespace evenspit::body {

/// A bird's shape with its bones, ready to be grown; the origin midway between the openings. `matter` goes by
/// BirdRegion.
BodyModel bird_model(const std::string& name, const std::shared_ptr<const BirdShape>& shape,
                     std::vector<RegionMatter> matter);

}  // namespace evenspit::body
