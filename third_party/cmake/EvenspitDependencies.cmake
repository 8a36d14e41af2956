# How each library of third_party/packages.txt is found. Nothing is vendored or downloaded.
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(fmt 9 REQUIRED)
find_package(Threads REQUIRED)
find_package(nlohmann_json 3.11 REQUIRED)
find_package(TinyGLTF 2.7 REQUIRED CONFIG)
find_package(CGAL 5.5 REQUIRED CONFIG)
include(CGAL_Eigen3_support)
find_package(Open3D REQUIRED CONFIG) # 0.16; asked for by number, it takes the exact one only
find_package(glfw3 3.3 REQUIRED CONFIG)
find_package(PNG 1.6 REQUIRED)
find_package(GIF 5.1 REQUIRED)
find_package(TBB 2021 REQUIRED CONFIG)
find_package(PkgConfig REQUIRED)
pkg_check_modules(imgui REQUIRED IMPORTED_TARGET imgui)
pkg_check_modules(epoxy REQUIRED IMPORTED_TARGET epoxy)
pkg_check_modules(gio REQUIRED IMPORTED_TARGET gio-2.0)
# What it asks of the compiler, -pthread, would keep tests from their precompiled headers; threads come by themselves.
set_property(TARGET PkgConfig::gio PROPERTY INTERFACE_COMPILE_OPTIONS "")
pkg_check_modules(cairo REQUIRED IMPORTED_TARGET cairo cairo-ft cairo-pdf cairo-svg)

# Letters of the viewer and of cards.
find_file(EVENSPIT_FONT DejaVuSans.ttf PATHS /usr/share/fonts/truetype/dejavu REQUIRED)
find_file(EVENSPIT_BOLD_FONT DejaVuSans-Bold.ttf PATHS /usr/share/fonts/truetype/dejavu REQUIRED)
mark_as_advanced(EVENSPIT_FONT EVENSPIT_BOLD_FONT)

# Header-only packages without a target of their own; as system headers, so that our warnings stay ours.
function(evenspit_header_only target header)
    find_path(${target}_INCLUDE_DIR "${header}" REQUIRED)
    add_library(evenspit_${target} INTERFACE)
    target_include_directories(evenspit_${target} SYSTEM INTERFACE "${${target}_INCLUDE_DIR}")
endfunction()
evenspit_header_only(cli11 "CLI/CLI.hpp")
evenspit_header_only(tomlplusplus "toml++/toml.h")
evenspit_header_only(nanoflann "nanoflann.hpp")

if(EVENSPIT_TESTS)
    find_package(GTest REQUIRED CONFIG)
    find_package(rapidcheck REQUIRED CONFIG)
    find_package(OpenCASCADE REQUIRED CONFIG)
    # Its targets name development files of TBB that its packages do not bring; the libraries know what they load.
    foreach(target TKernel TKMath TKGeomBase TKTopAlgo)
        get_target_property(libraries ${target} INTERFACE_LINK_LIBRARIES)
        list(FILTER libraries EXCLUDE REGEX "libtbb")
        set_target_properties(${target} PROPERTIES INTERFACE_LINK_LIBRARIES "${libraries}")
    endforeach()
    find_package(mujoco 2.2 REQUIRED CONFIG)
    # The package names an include folder that it does not install.
    set_target_properties(mujoco::mujoco PROPERTIES INTERFACE_INCLUDE_DIRECTORIES "/usr/include")
    if(EVENSPIT_BENCH)
        find_package(benchmark REQUIRED CONFIG)
        # One peer of the readers more, where it is installed.
        find_package(VTK 9 QUIET COMPONENTS CommonCore CommonDataModel IOGeometry IOPLY)
        find_package(embree 3.13 REQUIRED CONFIG)
        pkg_check_modules(ode REQUIRED IMPORTED_TARGET ode)
    endif()

    # A real scan for tests, benchmarks and samples; build/data is where the sample loads look for it.
    set(EVENSPIT_DATA_DIR "${PROJECT_SOURCE_DIR}/build/data")
    execute_process(COMMAND sh "${PROJECT_SOURCE_DIR}/third_party/sample_data.sh" "${EVENSPIT_DATA_DIR}"
        COMMAND_ERROR_IS_FATAL ANY)
endif()
