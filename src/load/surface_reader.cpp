// SPDX-License-Identifier: MIT
#include "load/surface_reader.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "geometry/mesh_io.h"
#include "load/fire_reader.h"
#include "units/metric.h"
#include "units/quantity.h"
#include "units/quote.h"

namespace evenspit {

namespace {

std::optional<SurfaceShape> read_plane(TableReader& reader) {
    const auto point = reader.vector3("point");
    const std::string expected = "a list of 3 plain numbers, the direction of the free side";
    const std::string mend = "write normal = [0, 0, 1]";
    const TomlNode* given = reader.find("normal");
    if (given == nullptr) {
        reader.missing("normal", expected, mend);
        return std::nullopt;
    }
    const bool three_numbers =
        given->kind == TomlNode::Kind::array && given->elements.size() == 3 &&
        std::all_of(given->elements.begin(), given->elements.end(), [](const TomlNode& n) {
            return n.kind == TomlNode::Kind::number && std::isfinite(n.number);
        });
    if (!three_numbers) {
        reader.complain("normal", given->shown(), expected, mend);
        return std::nullopt;
    }
    const Vec3 normal(given->elements[0].number, given->elements[1].number, given->elements[2].number);
    // stableNormalized: the squares of very large or small numbers would leave the range of a double.
    const Vec3 direction = normal.stableNormalized();
    if (std::abs(direction.norm() - 1) > 1e-9) {
        reader.complain("normal", "a normal of no length", expected, mend);
        return std::nullopt;
    }
    if (!point) return std::nullopt;
    return PlaneShape{*point, direction};
}

std::optional<SurfaceShape> read_box(TableReader& reader) {
    const auto min = reader.vector3("min");
    const auto max = reader.vector3("max");
    if (!min || !max) return std::nullopt;
    for (int axis = 0; axis < 3; ++axis) {
        if ((*min)[axis] < (*max)[axis]) continue;
        reader.complain("min",
                        fmt::format("{} along {}, where max has {}", metric_length((*min)[axis]), "xyz"[axis],
                                    metric_length((*max)[axis])),
                        "less than max along x, y and z", "");
        return std::nullopt;
    }
    return BoxShape{*min, *max};
}

std::optional<SurfaceShape> read_revolved(TableReader& reader) {
    const auto centre = reader.vector3("centre");
    const std::string expected = "at least two points [radius, height]";
    const std::string mend = R"(write profile = [["0 mm", "-200 mm"], ["200 mm", "0 mm"]])";
    const TomlNode* given = reader.find("profile");
    if (given == nullptr) {
        reader.missing("profile", expected, mend);
        return std::nullopt;
    }
    if (given->kind != TomlNode::Kind::array || given->elements.size() < 2) {
        reader.complain("profile", given->shown(), expected, mend);
        return std::nullopt;
    }
    RevolvedShape shape;
    for (std::size_t i = 0; i < given->elements.size(); ++i) {
        const TomlNode& pair = given->elements[i];
        const std::string path = fmt::format("{}[{}]", reader.path_of("profile"), i + 1);
        if (pair.kind != TomlNode::Kind::array || pair.elements.size() != 2) {
            reader.complaints().add(pair.spot, path, pair.shown(), "a point [radius, height]", mend);
            continue;
        }
        const auto radius = read_quantity(pair.elements[0], path + "[1]", Dimension::length,
                                          Range::not_negative, reader.complaints());
        const auto height =
            read_quantity(pair.elements[1], path + "[2]", Dimension::length, Range::any, reader.complaints());
        if (radius && height) shape.profile.emplace_back(*radius, *height);
    }
    if (!centre || shape.profile.size() != given->elements.size()) return std::nullopt;
    shape.centre = *centre;
    return shape;
}

std::optional<SurfaceShape> read_mesh_shape(TableReader& reader) {
    const auto name = reader.text(surface_mesh.key);
    std::optional<double> unit;
    if (const auto word = reader.text("unit")) {
        try {
            unit = parse_length_unit(*word);
        } catch (const QuantityError& error) {
            reader.complain("unit", error.found(), error.expected(), error.mend());
            return std::nullopt;
        }
    }
    if (!name) return std::nullopt;
    try {
        MeshFile file = read_mesh(named_file(reader, surface_mesh, *name));
        if (file.metres_per_unit && unit) {
            reader.complain("unit", "a unit for a format that defines its own", "no unit", "leave unit out");
            return std::nullopt;
        }
        TriangleMesh mesh = file.metres_per_unit ? std::move(file.mesh) : scaled(file.mesh, unit.value_or(1));
        return MeshShape{std::make_shared<const TriangleMesh>(std::move(mesh))};
    } catch (const InputError& error) {
        complain_at(reader, surface_mesh.key, error);
        return std::nullopt;
    }
}

std::optional<SurfaceShape> read_shape(TableReader& reader, SurfaceKind kind) {
    switch (kind) {
        case SurfaceKind::plane:
            return read_plane(reader);
        case SurfaceKind::box:
            return read_box(reader);
        case SurfaceKind::revolved:
            return read_revolved(reader);
        case SurfaceKind::mesh:
            return read_mesh_shape(reader);
    }
    return std::nullopt;
}

CookerSurface read_surface(TableReader& reader) {
    CookerSurface surface;
    surface.name = reader.text("name").value_or("");
    const auto kind = reader.choice("shape", surface_kind_words());
    if (kind) surface.shape = read_shape(reader, *kind).value_or(PlaneShape{});
    const std::string shape =
        kind ? fmt::format("shape = \"{}\"", word_for(surface_kind_words(), *kind)) : "";
    for (const LoadKey& key : reader.keys().keys) {
        if (key.only_with.empty() || !reader.has(key.name) || !kind || key.only_with == shape) continue;
        reader.complain(key.name, fmt::format("a key for {}", key.only_with),
                        fmt::format("none beside {}", shape), "take it out, or change the shape");
    }
    surface.fire = reader.flag_or_usual("fire");
    surface.temperature_k = reader.quantity("temperature");
    surface.keep_m = reader.quantity("keep").value_or(surface.fire ? usual_fire_keep_m : usual_keep_m);
    reader.refuse_unknown();
    return surface;
}

std::vector<CookerSurface> read_surfaces(TableReader& cooker) {
    std::vector<CookerSurface> surfaces;
    for (TableReader& reader : cooker.tables("surface")) {
        CookerSurface surface = read_surface(reader);
        const bool taken =
            std::any_of(surfaces.begin(), surfaces.end(),
                        [&surface](const CookerSurface& other) { return other.name == surface.name; });
        if (taken && !surface.name.empty()) {
            reader.complain("name", fmt::format("{} for a second time", in_quotes(surface.name)),
                            "a name of its own for each surface", "");
        }
        surfaces.push_back(std::move(surface));
    }
    return surfaces;
}

}  // namespace

Cooker read_cooker(TableReader& given, Reading& reading) {
    Cooker cooker;
    cooker.name = "cooker";
    if (const auto name = given.text("model")) {
        if (const auto file = read_model(given, "model", "cooker", *name, reading)) {
            cooker.name = *name;
            TableReader model(*file, given.keys(), given.path(), reading.complaints);
            model.text("kind");
            cooker.surfaces = read_surfaces(model);
            read_cooker_heat(model, cooker);
            if (model.has("model")) {
                model.complain("model", "a model in a model", "the surfaces themselves",
                               "take it out, and write the surfaces here");
            }
            model.refuse_unknown();
        }
    }
    given.text("kind");
    read_cooker_heat(given, cooker);
    for (CookerSurface& surface : read_surfaces(given)) {
        const auto same =
            std::find_if(cooker.surfaces.begin(), cooker.surfaces.end(),
                         [&surface](const CookerSurface& other) { return other.name == surface.name; });
        if (same == cooker.surfaces.end()) {
            cooker.surfaces.push_back(std::move(surface));
        } else {
            *same = std::move(surface);
        }
    }
    given.refuse_unknown();
    return cooker;
}

}  // namespace evenspit
