// SPDX-License-Identifier: MIT
#include "scan/orientation.h"

#include <algorithm>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/mst_orient_normals.h>
#include <CGAL/property_map.h>

namespace evenspit::scan {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;

struct Place {
    Kernel::Point_3 point;
    Kernel::Vector_3 normal;
    std::size_t index = 0;

    // Asked by CGAL where nothing is sure.
    friend bool operator==(const Place& a, const Place& b) { return a.index == b.index; }
};

// What CGAL reads and writes of a place.
struct PointOf {
    using key_type = Place;
    using value_type = Kernel::Point_3;
    using reference = const value_type&;
    using category = boost::lvalue_property_map_tag;
    friend reference get(PointOf, const Place& place) { return place.point; }
};
struct NormalOf {
    using key_type = Place;
    using value_type = Kernel::Vector_3;
    using reference = value_type&;
    using category = boost::lvalue_property_map_tag;
    friend reference get(NormalOf, Place& place) { return place.normal; }
    friend void put(NormalOf, Place& place, const value_type& normal) { place.normal = normal; }
};
struct IsSure {
    using key_type = Place;
    using value_type = bool;
    using reference = bool;
    using category = boost::readable_property_map_tag;
    const std::vector<bool>* sure = nullptr;
    friend bool get(const IsSure& map, const Place& place) { return (*map.sure)[place.index]; }
};

}  // namespace

std::vector<bool> turned_by_neighbours(const std::vector<Vec3>& positions, const std::vector<Vec3>& normals,
                                       const std::vector<bool>& sure, std::size_t neighbours) {
    std::vector<bool> turned(positions.size(), false);
    if (std::find(sure.begin(), sure.end(), true) == sure.end()) return turned;
    std::vector<Place> places;
    places.reserve(positions.size());
    for (std::size_t i = 0; i < positions.size(); ++i) {
        const Vec3 &p = positions[i], &n = normals[i];
        places.push_back({{p.x(), p.y(), p.z()}, {n.x(), n.y(), n.z()}, i});
    }
    const auto first_unreached = CGAL::mst_orient_normals(places, static_cast<unsigned>(neighbours),
                                                          CGAL::parameters::point_map(PointOf{})
                                                              .normal_map(NormalOf{})
                                                              .point_is_constrained_map(IsSure{&sure}));
    for (auto place = places.begin(); place != first_unreached; ++place) {
        const Vec3 now(place->normal.x(), place->normal.y(), place->normal.z());
        turned[place->index] = now.dot(normals[place->index]) < 0;
    }
    return turned;
}

}  // namespace evenspit::scan
