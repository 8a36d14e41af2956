// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>

#include "body/bird_shape.h"
#include "body/grown_body.h"

namespace evenspit {

/// A bird's shape with its bones, ready to be grown; the origin midway between the openings.
BodyModel bird_model(const std::string& name, const std::shared_ptr<const BirdShape>& shape,
                     double flesh_density);

}  // namespace evenspit
