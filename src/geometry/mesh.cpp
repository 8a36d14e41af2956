// SPDX-License-Identifier: MIT
#include "geometry/mesh.h"

namespace evenspit {

Mat3 turned(const Mat3& covariance, const Pose& pose) {
    return pose.linear() * covariance * pose.linear().transpose();
}

Box3 bounds(const TriangleMesh& mesh) {
    Box3 box;
    for (const Vec3& vertex : mesh.vertices) box.extend(vertex);
    return box;
}

TriangleMesh transformed(const TriangleMesh& mesh, const Pose& pose) {
    TriangleMesh moved = mesh;
    for (Vec3& vertex : moved.vertices) vertex = pose * vertex;
    return moved;
}

TriangleMesh scaled(const TriangleMesh& mesh, double factor) {
    TriangleMesh grown = mesh;
    for (Vec3& vertex : grown.vertices) vertex *= factor;
    return grown;
}

}  // namespace evenspit
