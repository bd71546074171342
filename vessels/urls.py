"""Addresses of plants, units, media, vessels and nozzles. One stem end to end: view, name, template."""

from django.urls import path

from vessels.views import attachments, capacity, media, nozzles, plants, strapping, units, vessels

urlpatterns = [
    path("", plants.plant_list, name="plant_list"),
    path("plants/new/", plants.plant_new, name="plant_new"),
    path("plants/<uuid:uid>/", plants.plant_view, name="plant_view"),
    path("plants/<uuid:uid>/edit/", plants.plant_edit, name="plant_edit"),
    path("plants/<uuid:uid>/units/", units.unit_list, name="unit_list"),
    path("plants/<uuid:uid>/units/new/", units.unit_new, name="unit_new"),
    path("units/<uuid:uid>/", units.unit_view, name="unit_view"),
    path("units/<uuid:uid>/edit/", units.unit_edit, name="unit_edit"),
    path("plants/<uuid:uid>/media/", media.medium_list, name="medium_list"),
    path("plants/<uuid:uid>/media/new/", media.medium_new, name="medium_new"),
    path("media/<uuid:uid>/", media.medium_view, name="medium_view"),
    path("media/<uuid:uid>/edit/", media.medium_edit, name="medium_edit"),
    path("plants/<uuid:uid>/vessels/", vessels.vessel_list, name="vessel_list"),
    path("plants/<uuid:uid>/vessels/new/", vessels.vessel_new, name="vessel_new"),
    path("vessels/<uuid:uid>/", vessels.vessel_view, name="vessel_view"),
    path("vessels/<uuid:uid>/edit/", vessels.vessel_edit, name="vessel_edit"),
    path("plants/<uuid:uid>/vessels/preview/", vessels.vessel_new_preview, name="vessel_new_preview"),
    path("vessels/<uuid:uid>/preview/", vessels.vessel_preview, name="vessel_preview"),
    path("vessels/<uuid:uid>/copy/", vessels.vessel_copy, name="vessel_copy"),
    path("vessels/<uuid:uid>/delete/", vessels.vessel_delete, name="vessel_delete"),
    path("vessels/<uuid:uid>/attach/", attachments.vessel_attach, name="vessel_attach"),
    path("vessels/<uuid:uid>/capacity/", capacity.capacity_view, name="capacity_view"),
    path("vessels/<uuid:uid>/capacity/sheet.pdf", capacity.capacity_sheet, name="capacity_sheet"),
    path("vessels/<uuid:uid>/capacity/<slug:what>.<slug:ending>", capacity.capacity_file, name="capacity_file"),
    path("vessels/<uuid:uid>/strapping/", strapping.strapping_edit, name="strapping_edit"),
    path("vessels/<uuid:uid>/strapping/preview/", strapping.strapping_preview, name="strapping_preview"),
    path("vessels/<uuid:uid>/strapping/delete/", strapping.strapping_delete, name="strapping_delete"),
    path("attachments/<uuid:uid>/", attachments.attachment_download, name="attachment_download"),
    path("attachments/<uuid:uid>/delete/", attachments.attachment_delete, name="attachment_delete"),
    path("units/<uuid:uid>/delete/", units.unit_delete, name="unit_delete"),
    path("media/<uuid:uid>/delete/", media.medium_delete, name="medium_delete"),
    path("nozzles/<uuid:uid>/delete/", nozzles.nozzle_delete, name="nozzle_delete"),
    path("plants/<uuid:uid>/nozzles/", nozzles.nozzle_list, name="nozzle_list"),
    path("vessels/<uuid:uid>/nozzles/new/", nozzles.nozzle_new, name="nozzle_new"),
    path("nozzles/<uuid:uid>/", nozzles.nozzle_view, name="nozzle_view"),
    path("nozzles/<uuid:uid>/edit/", nozzles.nozzle_edit, name="nozzle_edit"),
]
