// SPDX-License-Identifier: MIT
#include "body/bird_model.h"

#include <utility>

namespace evenspit::body {

BodyModel bird_model(const std::string& name, const std::shared_ptr<const BirdShape>& shape,
                     std::vector<RegionMatter> matter) {
    BodyModel model;
    model.name = name;
    model.flesh = [shape](const Vec3& p) { return shape->flesh(p); };
    model.box = shape->box();
    model.bones = bird_bones(*shape);
    const BirdShape::Openings openings = shape->openings();
    model.cavity_piece = [shape, openings](double from, double to, double across) {
        return shape->cavity_piece(openings, from, to, across);
    };
    model.region_table = bird_regions();
    model.region_on_surface = [shape](const Vec3& p) {
        return static_cast<std::uint8_t>(shape->region_on_surface(p));
    };
    model.layers = [shape](const Vec3& p, double full) { return shape->layers(p, full); };
    if (shape->is_even()) model.mirrored_regions = mirrored_regions(model.region_table);
    model.origin = Vec3(0.5 * (openings.vent_x + openings.neck_x), 0, 0);
    model.matter = std::move(matter);
    return model;
}

}  // namespace evenspit::body
