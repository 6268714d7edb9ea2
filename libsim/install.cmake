# The library for those who link it: headers, archives and what find_package(lowspot) reads.
include(CMakePackageConfigHelpers)
set_target_properties(lowspot_toml PROPERTIES EXPORT_NAME toml)
set_target_properties(lowspot_hdf5 PROPERTIES EXPORT_NAME hdf5)
set_target_properties(lowspot_gdal PROPERTIES EXPORT_NAME gdal)
install(TARGETS lowspot ${LOWSPOT_LAYER_TARGETS} lowspot_toml lowspot_hdf5 lowspot_gdal EXPORT lowspot
  ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT library)
set(folder ${CMAKE_INSTALL_LIBDIR}/cmake/lowspot)
install(EXPORT lowspot NAMESPACE lowspot:: DESTINATION ${folder} COMPONENT library)
configure_file(${CMAKE_CURRENT_SOURCE_DIR}/lowspot-config.cmake.in ${CMAKE_BINARY_DIR}/lowspot-config.cmake @ONLY)
# Before 1.0 a minor version may change the headers.
write_basic_package_version_file(${CMAKE_BINARY_DIR}/lowspot-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/lowspot-config.cmake ${CMAKE_BINARY_DIR}/lowspot-config-version.cmake
  DESTINATION ${folder} COMPONENT library)
