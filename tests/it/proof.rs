mod gcode;
