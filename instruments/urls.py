"""Addresses of tags, measurements and sensor classes. One stem end to end: view, name, template."""

from django.urls import path

from instruments.views import datasheets, findings, measurements, sensor_classes, tags

urlpatterns = [
    path("plants/<uuid:uid>/index/", tags.tag_list, name="tag_list"),
    path("plants/<uuid:uid>/tags/new/", tags.tag_new, name="tag_new"),
    path("plants/<uuid:uid>/letters/", tags.letters_spelled, name="letters_spelled"),
    path("tags/<uuid:uid>/", tags.tag_view, name="tag_view"),
    path("tags/<uuid:uid>/edit/", tags.tag_edit, name="tag_edit"),
    path("tags/<uuid:uid>/measurement/new/", measurements.measurement_new, name="measurement_new"),
    path("measurements/<uuid:uid>/", measurements.measurement_view, name="measurement_view"),
    path("measurements/<uuid:uid>/edit/", measurements.measurement_edit, name="measurement_edit"),
    path("measurements/<uuid:uid>/fit/", measurements.measurement_fit, name="measurement_fit"),
    path("measurements/<uuid:uid>/preview/", measurements.measurement_preview, name="measurement_preview"),
    path("measurements/<uuid:uid>/datasheet.pdf", datasheets.measurement_datasheet, name="measurement_datasheet"),
    path("measurements/<uuid:uid>/findings/<str:code>/", findings.finding_view, name="finding_view"),
    path("measurements/<uuid:uid>/findings/<str:code>/accept/", findings.finding_accept, name="finding_accept"),
    path("tags/<uuid:uid>/delete/", tags.tag_delete, name="tag_delete"),
    path("measurements/<uuid:uid>/copy/", measurements.measurement_copy, name="measurement_copy"),
    path("measurements/<uuid:uid>/delete/", measurements.measurement_delete, name="measurement_delete"),
    path("measurements/<uuid:uid>/attach/", measurements.measurement_attach, name="measurement_attach"),
    path("measurements/<uuid:uid>/common-sheet/", datasheets.common_sheet_choose, name="common_sheet_choose"),
    path("measurements/<uuid:uid>/common-sheet.pdf", datasheets.common_sheet, name="common_sheet"),
    path("plants/<uuid:uid>/sensor-classes/", sensor_classes.sensor_class_list, name="sensor_class_list"),
    path("plants/<uuid:uid>/sensor-classes/copy/", sensor_classes.sensor_class_copy, name="sensor_class_copy"),
    path("plants/<uuid:uid>/sensor-classes/compare/", sensor_classes.sensor_class_compare, name="sensor_class_compare"),
    path(
        "plants/<uuid:uid>/sensor-classes/<uuid:class_uid>/edit/",
        sensor_classes.sensor_class_edit,
        name="sensor_class_edit",
    ),
    path(
        "plants/<uuid:uid>/sensor-classes/<uuid:class_uid>/delete/",
        sensor_classes.sensor_class_delete,
        name="sensor_class_delete",
    ),
    path(
        "plants/<uuid:uid>/sensor-classes/<uuid:class_uid>/", sensor_classes.sensor_class_view, name="sensor_class_view"
    ),
]
