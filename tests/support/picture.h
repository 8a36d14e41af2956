// SPDX-License-Identifier: MIT
// A small picture maker for looking at meshes: orthographic, depth buffer, one light; writes PPM.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <limits>
#include <string>
#include <vector>

#include "geometry/mesh.h"

namespace evenspit::test {

using Colour = std::array<double, 3>;

class Picture {
  public:
    Picture(int width, int height)
        : width_(width),
          height_(height),
          pixels_(std::size_t(width) * std::size_t(height), Colour{1, 1, 1}) {}

    /// Draws meshes as seen along `look` with `up` upward into a cell of the picture. `scale` is pixels per
    /// metre, `centre` goes to the middle of the cell.
    void draw(const std::vector<const TriangleMesh*>& meshes, const std::vector<std::vector<Colour>>& colours,
              const Vec3& look, const Vec3& up, const Vec3& centre, double scale, std::array<int, 4> cell) {
        const Vec3 right = look.cross(up).normalized();
        const Vec3 above = right.cross(look).normalized();
        const Vec3 light = (-look + 0.5 * above - 0.4 * right).normalized();
        std::vector<double> depth(pixels_.size(), std::numeric_limits<double>::infinity());
        for (std::size_t m = 0; m < meshes.size(); ++m) {
            for (std::size_t t = 0; t < meshes[m]->triangles.size(); ++t) {
                std::array<Vec3, 3> s;
                for (int k = 0; k < 3; ++k) {
                    const Vec3 p = meshes[m]->corner(meshes[m]->triangles[t], k) - centre;
                    s[std::size_t(k)] = {cell[0] + 0.5 * cell[2] + scale * p.dot(right),
                                         cell[1] + 0.5 * cell[3] - scale * p.dot(above), p.dot(look)};
                }
                const Vec3 n = (meshes[m]->corner(meshes[m]->triangles[t], 1) -
                                meshes[m]->corner(meshes[m]->triangles[t], 0))
                                   .cross(meshes[m]->corner(meshes[m]->triangles[t], 2) -
                                          meshes[m]->corner(meshes[m]->triangles[t], 0))
                                   .normalized();
                const double shade = 0.25 + 0.75 * std::max(0.0, n.dot(light));
                const double area = (s[1].x() - s[0].x()) * (s[2].y() - s[0].y()) -
                                    (s[1].y() - s[0].y()) * (s[2].x() - s[0].x());
                if (area == 0) continue;
                const auto [x0, x1] = std::minmax({s[0].x(), s[1].x(), s[2].x()});
                const auto [y0, y1] = std::minmax({s[0].y(), s[1].y(), s[2].y()});
                for (int y = std::max(cell[1], int(y0)); y <= std::min(cell[1] + cell[3] - 1, int(y1) + 1);
                     ++y) {
                    for (int x = std::max(cell[0], int(x0));
                         x <= std::min(cell[0] + cell[2] - 1, int(x1) + 1); ++x) {
                        std::array<double, 3> w{};
                        for (std::size_t k = 0; k < 3; ++k) {
                            const Vec3 &a = s[(k + 1) % 3], &b = s[(k + 2) % 3];
                            w[k] = ((a.x() - x) * (b.y() - y) - (a.y() - y) * (b.x() - x)) / area;
                        }
                        if (w[0] < 0 || w[1] < 0 || w[2] < 0) continue;
                        const double z = w[0] * s[0].z() + w[1] * s[1].z() + w[2] * s[2].z();
                        const std::size_t at = std::size_t(y) * std::size_t(width_) + std::size_t(x);
                        if (z >= depth[at]) continue;
                        depth[at] = z;
                        for (std::size_t k = 0; k < 3; ++k)
                            pixels_[at][k] = shade * colours[m][colours[m].size() == 1 ? 0 : t][k];
                    }
                }
            }
        }
    }

    void write(const std::string& path) const {
        std::ofstream file(path, std::ios::binary);
        file << "P6\n" << width_ << ' ' << height_ << "\n255\n";
        for (const Colour& pixel : pixels_) {
            for (const double c : pixel)
                file.put(static_cast<char>(static_cast<unsigned char>(255 * std::clamp(c, 0.0, 1.0))));
        }
    }

  private:
    int width_, height_;
    std::vector<Colour> pixels_;
};

}  // namespace evenspit::test
