// SPDX-License-Identifier: MIT
#include "card/model_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "scene/scene.h"

namespace evenspit::card {
namespace {

using Colour = std::array<std::uint8_t, 3>;
constexpr std::size_t corner_bytes = 14;

/// What is shown, and in what colour; light, so that it prints well.
std::optional<Colour> colour_of(scene::Matter matter) {
    using enum scene::Matter;
    switch (matter) {
        case skin:
            return Colour{214, 164, 112};
        case swung:
            return Colour{226, 186, 146};
        case rod:
            return Colour{168, 172, 178};
        case fork:
            return Colour{96, 106, 120};
        case weight:
            return Colour{176, 136, 62};
        case motor:
            return Colour{84, 96, 104};
        case support:
            return Colour{110, 116, 122};
        case ember:  // the bed without its lumps, which are many
            return Colour{74, 66, 64};
        default:
            return std::nullopt;
    }
}

class Bytes {
  public:
    template <typename Number>
    void add(Number number) {
        auto bits = static_cast<std::uint64_t>(number);
        for (std::size_t n = 0; n < sizeof(Number); ++n, bits >>= 8U)
            bytes_ += static_cast<char>(bits & 0xFFU);
    }
    [[nodiscard]] std::string take() { return std::move(bytes_); }

  private:
    std::string bytes_;
};

template <typename Number>
Number read(std::string_view bytes, std::size_t at) {
    std::uint64_t bits = 0;
    for (std::size_t n = 0; n < sizeof(Number); ++n)
        bits |= static_cast<std::uint64_t>(static_cast<unsigned char>(bytes[at + n])) << (8U * n);
    return static_cast<Number>(bits);
}

/// A picture with the depth of what is nearest.
class Canvas {
  public:
    Canvas(int width, int height)
        : still_{width, height, std::vector<std::uint8_t>(std::size_t(width) * std::size_t(height) * 3, 255)},
          depth_(std::size_t(width) * std::size_t(height), std::numeric_limits<double>::infinity()) {}

    /// \param c corners in pixels, z away from the eye \param lit of its colour, 0 … 1
    void triangle(const std::array<Vec3, 3>& c, const Colour& colour, const std::array<double, 3>& lit) {
        const double area = cross(c[0], c[1], c[2]);
        if (std::abs(area) < 1e-9) return;
        const auto [x0, x1] = std::minmax({c[0].x(), c[1].x(), c[2].x()});
        const auto [y0, y1] = std::minmax({c[0].y(), c[1].y(), c[2].y()});
        for (int y = std::max(0, int(y0)); y <= std::min(still_.height - 1, int(y1)); ++y) {
            for (int x = std::max(0, int(x0)); x <= std::min(still_.width - 1, int(x1)); ++x) {
                const Vec3 p(x + 0.5, y + 0.5, 0);
                const double a = cross(p, c[1], c[2]) / area, b = cross(c[0], p, c[2]) / area, d = 1 - a - b;
                if (a < 0 || b < 0 || d < 0) continue;
                const double z = a * c[0].z() + b * c[1].z() + d * c[2].z();
                const std::size_t at = std::size_t(y) * std::size_t(still_.width) + std::size_t(x);
                if (z >= depth_[at]) continue;
                depth_[at] = z;
                const double light = a * lit[0] + b * lit[1] + d * lit[2];
                for (std::size_t k = 0; k < 3; ++k)
                    still_.rgb[3 * at + k] =
                        static_cast<std::uint8_t>(std::clamp(colour[k] * light, 0.0, 255.0));
            }
        }
    }
    [[nodiscard]] Still take() { return std::move(still_); }

  private:
    static double cross(const Vec3& a, const Vec3& b, const Vec3& c) {
        return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
    }

    Still still_;
    std::vector<double> depth_;
};

}  // namespace

ModelPicture model_picture(const Assembly& load, const Analysis& analysis, std::size_t most_triangles) {
    scene::SceneMaker maker(most_triangles / std::max<std::size_t>(1, load.items.size()));
    const scene::Scene scene = maker.scene(load, analysis);
    Box3 around;
    const auto for_all = [&](const auto& take) {
        for (const scene::Piece& piece : scene.pieces) {
            const std::optional<Colour> colour = colour_of(piece.matter);
            if (colour) take(piece, *colour);
        }
    };
    const auto place = [](const scene::Piece& piece, const scene::ShapeMesh::Corner& c) -> Vec3 {
        return piece.pose * Vec3(c.at[0], c.at[1], c.at[2]);
    };
    for_all([&](const scene::Piece& piece, const Colour&) {
        for (const auto& corner : piece.shape->corners) around.extend(place(piece, corner));
    });
    ModelPicture model;
    if (around.isEmpty()) return model;
    model.middle = around.center();
    const Vec3 least = around.min() - model.middle, most = around.max() - model.middle;
    double furthest = 1e-3;
    for (Eigen::Index axis = 0; axis < 3; ++axis)
        furthest = std::max({furthest, std::abs(least[axis]), std::abs(most[axis])});
    model.scale_m = furthest / 32767;
    Bytes corners, triangles;
    for_all([&](const scene::Piece& piece, const Colour& colour) {
        for (const auto& corner : piece.shape->corners) {
            const Vec3 at = (place(piece, corner) - model.middle) / model.scale_m;
            const Vec3 normal =
                piece.pose.linear() * Vec3(corner.normal[0], corner.normal[1], corner.normal[2]);
            model.reach_m = std::max(model.reach_m, at.norm() * model.scale_m);
            for (Eigen::Index axis = 0; axis < 3; ++axis)
                corners.add(static_cast<std::int16_t>(std::lround(at[axis])));
            for (Eigen::Index axis = 0; axis < 3; ++axis)
                corners.add(static_cast<std::int8_t>(std::lround(127 * std::clamp(normal[axis], -1.0, 1.0))));
            corners.add(static_cast<std::uint8_t>(piece.turns ? 1 : 0));
            for (const std::uint8_t part : colour) corners.add(part);
            corners.add(std::uint8_t{0});
        }
        for (const std::uint32_t corner : piece.shape->triangles)
            triangles.add(static_cast<std::uint32_t>(corner + model.corners));
        model.corners += piece.shape->corners.size();
        model.triangles += piece.shape->triangle_count();
    });
    model.bytes = corners.take() + triangles.take();
    return model;
}

Still still_of(const ModelPicture& model, int width, int height) {
    // As page.js begins.
    constexpr double azimuth = -0.45, elevation = 0.32;
    const Vec3 forward(-std::cos(elevation) * std::sin(azimuth), std::cos(elevation) * std::cos(azimuth),
                       -std::sin(elevation));
    const Vec3 right(std::cos(azimuth), std::sin(azimuth), 0), up = right.cross(forward);
    const Vec3 key = (-forward + 0.5 * up - 0.4 * right).normalized();
    Canvas canvas(width, height);
    std::vector<Vec3> shown(model.corners);
    std::vector<double> lit(model.corners);
    Eigen::AlignedBox2d around;
    for (std::size_t n = 0; n < model.corners; ++n) {
        const std::size_t from = n * corner_bytes;
        Vec3 at, normal;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            at[Eigen::Index(axis)] = read<std::int16_t>(model.bytes, from + 2 * axis) * model.scale_m;
            normal[Eigen::Index(axis)] = read<std::int8_t>(model.bytes, from + 6 + axis) / 127.0;
        }
        shown[n] = {at.dot(right), -at.dot(up), at.dot(forward)};
        lit[n] = 0.45 + 0.6 * std::max(0.0, normal.dot(key));
        around.extend(Vec2(shown[n].x(), shown[n].y()));
    }
    constexpr double margin = 0.96;
    const Vec2 size = around.isEmpty() ? Vec2(1, 1) : Vec2(around.sizes());
    const double scale = margin * std::min(width / size.x(), height / size.y());
    for (Vec3& p : shown) {
        p.x() = width / 2.0 + scale * (p.x() - around.center().x());
        p.y() = height / 2.0 + scale * (p.y() - around.center().y());
    }
    const std::size_t begin = model.corners * corner_bytes;
    for (std::size_t t = 0; t < model.triangles; ++t) {
        std::array<Vec3, 3> c;
        std::array<double, 3> light{};
        std::size_t corner = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            corner = read<std::uint32_t>(model.bytes, begin + 4 * (3 * t + k));
            c[k] = shown[corner];
            light[k] = lit[corner];
        }
        Colour colour{};
        for (std::size_t k = 0; k < 3; ++k)
            colour[k] = read<std::uint8_t>(model.bytes, corner * corner_bytes + 10 + k);
        canvas.triangle(c, colour, light);
    }
    return canvas.take();
}

}  // namespace evenspit::card
